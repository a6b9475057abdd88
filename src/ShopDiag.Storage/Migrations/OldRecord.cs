using Microsoft.EntityFrameworkCore.Migrations;

namespace ShopDiag.Storage.Migrations
{
    /// <summary>Carries what was known of who did what before there was a record of it into the record.</summary>
    internal static class OldRecord
    {
        /// <summary>Openings, commands, readings and photos, oldest first, under the names that tablets gave at the time; nobody had signed in.</summary>
        public static void Copy(MigrationBuilder migration) => migration.Sql(
            """
            INSERT INTO Audit (At, OrderId, CommandId, Who, Way, Device, What, After)
            SELECT At, OrderId, CommandId, Who, 'None', '', What, After FROM (
                SELECT At, OrderId, NULL AS CommandId, By AS Who, 'open order' AS What, NULL AS After FROM StageMoves WHERE Sequence = 1
                UNION ALL SELECT At, OrderId, Id, By, What, NULL FROM AppliedCommands
                UNION ALL SELECT SavedAt, OrderId, Id, coalesce(By, ''),
                    CASE WHEN Withdrawn THEN 'take reading back' WHEN SupersedesId IS NOT NULL THEN 'correct reading' ELSE 'add reading' END, Test FROM Readings
                UNION ALL SELECT TakenAt, OrderId, Id, By, 'add photo', Test FROM Photos)
            ORDER BY At;
            """);
    }
}
