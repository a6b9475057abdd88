using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Infrastructure;
using Microsoft.EntityFrameworkCore.Migrations;

namespace ShopDiag.Storage.Tests.Opening;

public sealed class MigrationTests
{
    [Fact]
    public async Task Every_migration_runs_on_an_empty_database_one_after_the_other()
    {
        await using var shop = TestShop.Closed();
        Directory.CreateDirectory(shop.Folder);
        await using var db = shop.Context();
        foreach (var migration in db.Database.GetMigrations().ToArray())
        {
            await db.GetService<IMigrator>().MigrateAsync(migration);
            Assert.Equal("ok", shop.Text("PRAGMA integrity_check"));
        }

        Assert.Empty(await db.Database.GetPendingMigrationsAsync());
    }

    [Fact]
    public async Task What_was_done_before_there_was_a_record_stands_in_it_afterwards_under_the_names_of_then()
    {
        await using var shop = await TestShop.OpenAsync();
        await shop.Shop.LoadDemoAsync();
        var order = (await shop.Orders.GetByNumberAsync(1014))!;
        await shop.SetAsync(order, ShopDiag.Storage.Orders.OrderField.ConcernText, "Shudders");
        await using (var db = shop.Context())
        {
            var before = db.Database.GetMigrations().TakeWhile(m => !m.EndsWith("_People", StringComparison.Ordinal)).Last();
            await db.GetService<IMigrator>().MigrateAsync(before);
            await db.GetService<IMigrator>().MigrateAsync();
        }

        Assert.Equal("ok", shop.Text("PRAGMA integrity_check"));
        var steps = shop.Text($"SELECT group_concat(What, ', ') FROM (SELECT * FROM Audit WHERE OrderId = '{order.Id.ToString().ToUpperInvariant()}' ORDER BY Sequence)");
        Assert.StartsWith("open order, ", steps, StringComparison.Ordinal);
        Assert.Contains("set ConcernText", steps, StringComparison.Ordinal);
        Assert.Equal(shop.Scalar("SELECT count(*) FROM Readings"), shop.Scalar("SELECT count(*) FROM Audit WHERE What IN ('add reading', 'correct reading', 'take reading back')"));
        Assert.Equal("Rosa", shop.Text("SELECT Who FROM Audit WHERE What = 'set ConcernText'"));
    }

    [Fact]
    public async Task The_migrations_say_everything_that_the_model_says()
    {
        await using var shop = await TestShop.OpenAsync();
        await using var db = shop.Context();
        Assert.False(db.Database.HasPendingModelChanges());
    }

    [Theory]
    [InlineData("Readings")]
    [InlineData("Obstacles")]
    [InlineData("Findings")]
    [InlineData("StageMoves")]
    [InlineData("Audit")]
    public async Task The_last_migration_leaves_the_guards_of_append_only_tables_in_place(string table)
    {
        await using var shop = await TestShop.OpenAsync();
        Assert.Equal(2, shop.Scalar($"SELECT count(*) FROM sqlite_master WHERE type = 'trigger' AND tbl_name = '{table}'"));
    }

    [Fact]
    public async Task The_last_migration_leaves_what_forgets_the_search_text_of_a_removed_order_in_place()
    {
        await using var shop = await TestShop.OpenAsync();
        Assert.Equal(1, shop.Scalar("SELECT count(*) FROM sqlite_master WHERE type = 'trigger' AND tbl_name = 'Cases'"));
    }

    [Theory]
    [InlineData("UPDATE Readings SET ValueJson = '{\"kPa\":1}'")]
    [InlineData("DELETE FROM Readings")]
    [InlineData("UPDATE StageMoves SET By = 'Nobody'")]
    [InlineData("DELETE FROM StageMoves")]
    [InlineData("UPDATE Findings SET Causes = ''")]
    [InlineData("DELETE FROM Findings")]
    [InlineData("UPDATE Audit SET Who = 'Nobody'")]
    [InlineData("DELETE FROM Audit")]
    public async Task The_database_itself_refuses_to_change_or_delete_what_is_append_only(string sql)
    {
        await using var shop = await TestShop.OpenAsync();
        await shop.Shop.LoadDemoAsync();
        var refusal = Assert.Throws<Microsoft.Data.Sqlite.SqliteException>(() => shop.Run(sql));
        Assert.Contains("add a row that corrects them", refusal.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("UPDATE Orders SET DiagnosisPriceMinor = 12.5")]
    [InlineData("UPDATE Orders SET DiagnosisPriceMinor = 'a lot'")]
    [InlineData("UPDATE Orders SET DiagnosisPriceMinor = -1")]
    [InlineData("UPDATE Settings SET LabourPerHourMinor = 145.5")]
    [InlineData("UPDATE Orders SET OdometerUnit = 'furlong'")]
    [InlineData("UPDATE Orders SET Number = 7 WHERE Number = 1001")]
    [InlineData("INSERT INTO Settings SELECT 2, Name, Address, Phone, Currency, LabourPerHourMinor, UnitSystem, UnitsJson, Paper, AltitudeMetres, ToolsJson, IsDemo, LearnFromCases, AltitudeByDensity, PricingJson, ComebackDays, ComebackKilometres, KeepingJson, LockAfterMinutes FROM Settings")]
    public async Task The_database_itself_refuses_what_cannot_be(string sql)
    {
        await using var shop = await TestShop.OpenAsync();
        await shop.Shop.LoadDemoAsync();
        var refusal = Assert.Throws<Microsoft.Data.Sqlite.SqliteException>(() => shop.Run(sql));
        Assert.Contains("CHECK constraint failed", refusal.Message, StringComparison.Ordinal);
    }
}
