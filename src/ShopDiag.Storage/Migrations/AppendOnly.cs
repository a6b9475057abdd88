using Microsoft.EntityFrameworkCore.Migrations;

namespace ShopDiag.Storage.Migrations
{
    /// <summary>Makes the database itself refuse to change or delete rows of a table.</summary>
    internal static class AppendOnly
    {
        /// <summary>
        /// Adds the two triggers. A later migration that changes columns of the table rebuilds it, and SQLite drops the triggers with the
        /// old table: call this again at its end (a test looks for them after the last migration).
        /// </summary>
        public static void Guard(MigrationBuilder migration, string table)
        {
            foreach (var (verb, past) in new[] { ("UPDATE", "changed"), ("DELETE", "deleted") })
            {
                migration.Sql($"CREATE TRIGGER IF NOT EXISTS {table}_no_{verb} BEFORE {verb} ON {table} BEGIN SELECT RAISE(ABORT, '{table} are never {past}: add a row that corrects them'); END;");
            }
        }
    }
}
