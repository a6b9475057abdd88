using System.Data.Common;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore.Diagnostics;

namespace ShopDiag.Storage.Opening;

/// <summary>
/// Sets up every connection as it opens. Write-ahead log with synchronous=FULL: an acknowledged write survives a power cut,
/// which synchronous=NORMAL does not promise. What is erased is overwritten in the file, not only forgotten.
/// </summary>
internal sealed class ConnectionSetup : DbConnectionInterceptor
{
    private const string Pragmas = "PRAGMA synchronous=FULL; PRAGMA foreign_keys=ON; PRAGMA journal_size_limit=67108864; PRAGMA secure_delete=ON;";
    private const string WriteAheadLog = "PRAGMA journal_mode=WAL;";

    /// <inheritdoc/>
    public override void ConnectionOpened(DbConnection connection, ConnectionEndEventData eventData) => SetUp(connection);

    /// <inheritdoc/>
    public override Task ConnectionOpenedAsync(DbConnection connection, ConnectionEndEventData eventData, CancellationToken cancellationToken = default)
    {
        SetUp(connection);
        return Task.CompletedTask;
    }

    private static void SetUp(DbConnection connection)
    {
        var sqlite = (SqliteConnection)connection;
        SqliteFile.AddFunctions(sqlite);
        using var command = sqlite.CreateCommand();
        // The migrator first looks, read-only, whether there is a database. One left by a start that was killed before it got its log
        // could not be opened ever again if the log were asked for then.
        command.CommandText = IsReadOnly(connection) ? Pragmas : WriteAheadLog + Pragmas;
        command.ExecuteNonQuery();
    }

    private static bool IsReadOnly(DbConnection connection) =>
        new SqliteConnectionStringBuilder(connection.ConnectionString).Mode == SqliteOpenMode.ReadOnly;
}
