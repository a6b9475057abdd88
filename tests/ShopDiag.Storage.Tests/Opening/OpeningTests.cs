using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;

namespace ShopDiag.Storage.Tests.Opening;

public sealed class OpeningTests
{
    [Fact]
    public async Task The_data_folder_is_made_for_its_owner_alone()
    {
        var parent = TestShop.NewFolder();
        await using (var shop = await TestShop.OpenAsync(Path.Combine(parent, "deeper")))
        {
            Assert.True(File.Exists(Path.Combine(shop.Folder, "shop.db")));
            if (!OperatingSystem.IsWindows())
            {
                Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute, File.GetUnixFileMode(shop.Folder));
            }
        }

        Directory.Delete(parent, recursive: true);
    }

    [Fact]
    public async Task Every_connection_is_set_to_survive_a_power_cut()
    {
        await using var shop = await TestShop.OpenAsync();
        await using var one = shop.Context();
        await using var other = shop.Context();
        foreach (var db in new[] { one, other })
        {
            await db.Database.OpenConnectionAsync();
            Assert.Equal("wal", await db.Database.SqlQuery<string>($"SELECT journal_mode AS Value FROM pragma_journal_mode").SingleAsync());
            Assert.Equal(2, await db.Database.SqlQuery<int>($"SELECT synchronous AS Value FROM pragma_synchronous").SingleAsync());
            Assert.Equal(1, await db.Database.SqlQuery<int>($"SELECT foreign_keys AS Value FROM pragma_foreign_keys").SingleAsync());
            var connection = new SqliteConnectionStringBuilder(db.Database.GetConnectionString());
            Assert.Equal((SqliteCacheMode.Private, true), (connection.Cache, connection.Pooling));
        }
    }

    [Fact]
    public async Task A_second_shop_on_the_folder_is_refused_until_the_first_lets_go()
    {
        await using var late = TestShop.Closed();
        await using (await TestShop.OpenAsync(late.Folder))
        {
            var refusal = await Assert.ThrowsAsync<DataFolderException>(() => late.Services.OpenShopAsync());
            Assert.Contains(late.Folder, refusal.Message, StringComparison.Ordinal);
        }

        await late.Services.OpenShopAsync();
        await late.OpenOrderAsync();
    }

    [Fact]
    public async Task Opening_twice_is_harmless()
    {
        await using var shop = await TestShop.OpenAsync();
        await Task.WhenAll(shop.Services.OpenShopAsync(), shop.Services.OpenShopAsync());
        await shop.OpenOrderAsync();
    }

    [Fact]
    public async Task Nothing_is_read_or_written_before_the_shop_is_opened()
    {
        await using var shop = TestShop.Closed();
        await Assert.ThrowsAsync<InvalidOperationException>(() => shop.Orders.OpenOrdersAsync());
        await Assert.ThrowsAsync<InvalidOperationException>(shop.OpenOrderAsync);
        Assert.False(Directory.Exists(shop.Folder));
    }

    [Fact]
    public async Task A_folder_that_cannot_be_made_is_told_in_plain_words()
    {
        var file = TestShop.NewFolder();
        await File.WriteAllTextAsync(file, "in the way");
        await using var shop = TestShop.Closed(file);
        var refusal = await Assert.ThrowsAsync<DataFolderException>(() => shop.Services.OpenShopAsync());
        Assert.Contains($"{file} cannot be written", refusal.Message, StringComparison.Ordinal);
        File.Delete(file);
    }

    [Fact]
    public async Task A_migration_lock_left_by_a_killed_process_does_not_hold_up_the_start()
    {
        await using var shop = TestShop.Closed();
        shop.Run("CREATE TABLE __EFMigrationsLock (Id INTEGER NOT NULL CONSTRAINT PK___EFMigrationsLock PRIMARY KEY, Timestamp TEXT NOT NULL); INSERT INTO __EFMigrationsLock VALUES (1, '2026-03-01 00:00:00+00:00')");
        await Task.Run(() => shop.Services.OpenShopAsync()).WaitAsync(TimeSpan.FromSeconds(30));
        await shop.OpenOrderAsync();
    }

    [Fact]
    public async Task Records_of_a_newer_version_are_left_alone()
    {
        await using var shop = TestShop.Closed();
        await using (await TestShop.OpenAsync(shop.Folder))
        {
        }

        shop.Run("INSERT INTO __EFMigrationsHistory VALUES ('29990101000000_FromTheFuture', '99.0.0')");
        var refusal = await Assert.ThrowsAsync<DataFolderException>(() => shop.Services.OpenShopAsync());
        Assert.Contains("newer ShopDiag", refusal.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Records_that_are_damaged_say_what_to_do()
    {
        await using var shop = TestShop.Closed();
        Directory.CreateDirectory(shop.Folder);
        await File.WriteAllTextAsync(Path.Combine(shop.Folder, "shop.db"), new string('x', 10_000));
        var refusal = await Assert.ThrowsAsync<DataFolderException>(() => shop.Services.OpenShopAsync());
        Assert.Contains("are damaged", refusal.Message, StringComparison.Ordinal);
        Assert.Contains("restore", refusal.Message, StringComparison.Ordinal);
    }
}
