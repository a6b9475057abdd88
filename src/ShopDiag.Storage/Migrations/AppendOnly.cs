using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Migrations;
using ShopDiag.Storage.Rows;

namespace ShopDiag.Storage.Migrations
{
    /// <summary>Makes the database itself refuse to change or delete rows of a table.</summary>
    internal static class AppendOnly
    {
        private static readonly (string Verb, string Past)[] Verbs = [("UPDATE", "changed"), ("DELETE", "deleted")];

        // What never changes of a table of which something may be entered later: the end of what was said.
        private static readonly (string Table, string Columns)[] Kept = [("Obstacles", "Id, OrderId, Test, PlaceKind, PlaceFirst, PlaceSecond, Why, By, SaidAt")];

        /// <summary>
        /// Adds the two triggers. A later migration that changes columns of the table rebuilds it, and SQLite drops the triggers with the
        /// old table: call this again at its end (a test looks for them after the last migration).
        /// </summary>
        public static void Guard(MigrationBuilder migration, string table)
        {
            foreach (var (verb, past) in Verbs)
            {
                migration.Sql(Trigger(table, verb, past) + ";");
            }
        }

        /// <summary>
        /// Changes rows of such a table all the same, because the law asks for it: takes the guard away, changes, puts it back. Within the transaction at hand, so that the guard is never
        /// seen to be missing.
        /// </summary>
        public static async Task WithoutGuardAsync(ShopDb db, string table, Func<Task> change)
        {
#pragma warning disable EF1002 // The names of tables are constants of this program.
            await db.Database.ExecuteSqlRawAsync($"DROP TRIGGER {table}_no_UPDATE").ConfigureAwait(false);
            await change().ConfigureAwait(false);
            await db.Database.ExecuteSqlRawAsync(Trigger(table, Verbs[0].Verb, Verbs[0].Past)).ConfigureAwait(false);
#pragma warning restore EF1002
        }

        private static string Trigger(string table, string verb, string past) =>
            $"CREATE TRIGGER IF NOT EXISTS {table}_no_{verb} BEFORE {verb}{Of(table, verb)} ON {table} BEGIN SELECT RAISE(ABORT, '{table} are never {past}: add a row that corrects them'); END";

        private static string Of(string table, string verb) => verb == "UPDATE" && Kept.FirstOrDefault(k => k.Table == table).Columns is { } columns ? $" OF {columns}" : "";
    }
}
