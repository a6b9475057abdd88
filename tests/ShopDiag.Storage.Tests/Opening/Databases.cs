using Microsoft.Data.Sqlite;

namespace ShopDiag.Storage.Tests.Opening;

/// <summary>Database files opened as a stranger would.</summary>
internal static class Databases
{
    /// <summary>A command on a database; disposing of it closes the database.</summary>
    public static SqliteCommand Open(string file)
    {
        var connection = new SqliteConnection($"Data Source={file};Pooling=False");
        connection.Open();
        var command = connection.CreateCommand();
        command.Disposed += (_, _) => connection.Dispose();
        return command;
    }
}
