using System.Globalization;
using Microsoft.Data.Sqlite;
using ShopDiag.Storage.Rows;

namespace ShopDiag.Storage.Opening;

/// <summary>Database files opened beside the program's own contexts: to be copied, checked, exported.</summary>
internal static class SqliteFile
{
    /// <summary>Opens one that is there. Never pooled: a copy must be let go of before it is moved.</summary>
    public static SqliteConnection Open(string file, SqliteOpenMode mode = SqliteOpenMode.ReadWrite)
    {
        var connection = new SqliteConnection(new SqliteConnectionStringBuilder
        {
            DataSource = file, Mode = mode, Cache = SqliteCacheMode.Private, Pooling = false, ForeignKeys = true,
        }.ToString());
        try
        {
            connection.Open();
            AddFunctions(connection);
            return connection;
        }
        catch
        {
            connection.Dispose();
            throw;
        }
    }

    /// <summary>The functions that the schema and the queries call.</summary>
    public static void AddFunctions(SqliteConnection connection)
    {
        connection.CreateFunction<string?, string?>(SearchText.FoldFunction, t => t is null ? null : SearchText.Fold(t), isDeterministic: true);
        connection.CreateFunction<string?, string?>(SearchText.KeyFunction, t => t is null ? null : SearchText.Key(t), isDeterministic: true);
    }

    /// <summary>Copies a database that may be in use by the online backup of SQLite: one moment of it, whatever is written meanwhile. The copy is one file, without a log, and on disk.</summary>
    public static void CopyTo(string from, string to)
    {
        using (OwnerOnly.Create(to))
        {
            // Made for its owner alone before there is anything in it.
        }

        using (var source = Open(from))
        using (var target = Open(to))
        {
            source.BackupDatabase(target);
            target.Execute("PRAGMA journal_mode=DELETE");
        }

        using var file = new FileStream(to, FileMode.Open, FileAccess.ReadWrite);
        file.Flush(flushToDisk: true);
    }

    /// <summary>Runs a statement.</summary>
    public static void Execute(this SqliteConnection connection, string sql, params (string Name, object? Value)[] parameters)
    {
        using var command = connection.Command(sql, parameters);
        command.ExecuteNonQuery();
    }

    /// <summary>The one number that a query answers.</summary>
    public static long Number(this SqliteConnection connection, string sql, params (string Name, object? Value)[] parameters)
    {
        using var command = connection.Command(sql, parameters);
        return Convert.ToInt64(command.ExecuteScalar(), CultureInfo.InvariantCulture);
    }

    /// <summary>The rows of a query; null where the database has none.</summary>
    public static IEnumerable<object?[]> Rows(this SqliteConnection connection, string sql, params (string Name, object? Value)[] parameters)
    {
        using var command = connection.Command(sql, parameters);
        using var reader = command.ExecuteReader();
        while (reader.Read())
        {
            var row = new object?[reader.FieldCount];
            for (var i = 0; i < row.Length; i++)
            {
                row[i] = reader.IsDBNull(i) ? null : reader.GetValue(i);
            }

            yield return row;
        }
    }

    private static SqliteCommand Command(this SqliteConnection connection, string sql, (string Name, object? Value)[] parameters)
    {
        var command = connection.CreateCommand();
#pragma warning disable CA2100 // Every text is written in this program; what comes from outside goes in as a parameter.
        command.CommandText = sql;
#pragma warning restore CA2100
        foreach (var (name, value) in parameters)
        {
            command.Parameters.AddWithValue(name, value ?? DBNull.Value);
        }

        return command;
    }
}
