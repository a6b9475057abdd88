using System.Data.Common;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore.Diagnostics;
using ShopDiag.Storage.Rows;

namespace ShopDiag.Storage.Opening;

/// <summary>
/// Sets up every connection as it opens. Write-ahead log with synchronous=FULL: an acknowledged write survives a power cut,
/// which synchronous=NORMAL does not promise.
/// </summary>
internal sealed class ConnectionSetup : DbConnectionInterceptor
{
    private const string Pragmas = "PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL; PRAGMA foreign_keys=ON; PRAGMA journal_size_limit=67108864;";

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
        sqlite.CreateFunction<string?, string?>(SearchText.FoldFunction, t => t is null ? null : SearchText.Fold(t), isDeterministic: true);
        sqlite.CreateFunction<string?, string?>(SearchText.KeyFunction, t => t is null ? null : SearchText.Key(t), isDeterministic: true);
        using var command = sqlite.CreateCommand();
        command.CommandText = Pragmas;
        command.ExecuteNonQuery();
    }
}
