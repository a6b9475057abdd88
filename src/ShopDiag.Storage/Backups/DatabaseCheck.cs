using System.Collections.Immutable;
using Microsoft.Data.Sqlite;
using ShopDiag.Storage.Opening;

namespace ShopDiag.Storage.Backups;

/// <summary>What a look into a database file came to.</summary>
/// <param name="Integrity"><c>ok</c>, or what SQLite found wrong, the first lines of it.</param>
/// <param name="BrokenReferences">Rows that point at rows which are not there.</param>
/// <param name="Schema">Name of the last migration; empty when there is none.</param>
/// <param name="Orders">Number of orders.</param>
/// <param name="Files">Names of the files that the database speaks of.</param>
internal sealed record DatabaseCheck(string Integrity, long BrokenReferences, string Schema, int Orders, ImmutableSortedSet<string> Files)
{
    private const int MostLines = 10;

    /// <summary>True when nothing is wrong inside the file.</summary>
    public bool IsSound => Integrity == "ok" && BrokenReferences == 0;

    /// <summary>Looks into a file. One that is no database comes out as not sound; throws when it cannot be opened at all.</summary>
    public static DatabaseCheck Of(string file)
    {
        try
        {
            using var database = SqliteFile.Open(file);
            var integrity = string.Join('\n', database.Rows($"PRAGMA integrity_check({MostLines})").Select(r => (string)r[0]!));
            return new(
                integrity,
                database.Number("SELECT count(*) FROM pragma_foreign_key_check"),
                SchemaOf(database),
                (int)(HasOrders(database) ? database.Number("SELECT count(*) FROM Orders") : 0),
                KeptFiles.NamedBy(database));
        }
        catch (SqliteException e) when (e.SqliteErrorCode is 11 or 26)
        {
            return new(e.Message, 0, "", 0, []);
        }
    }

    /// <summary>Name of the last migration that a database has been through; empty for none.</summary>
    public static string SchemaOf(SqliteConnection database) => database.Number("SELECT count(*) FROM sqlite_master WHERE name = '__EFMigrationsHistory'") == 0
        ? ""
        : database.Rows("SELECT max(MigrationId) FROM __EFMigrationsHistory").Select(r => r[0] as string ?? "").Single();

    private static bool HasOrders(SqliteConnection database) => database.Number("SELECT count(*) FROM sqlite_master WHERE type = 'table' AND name = 'Orders'") > 0;
}
