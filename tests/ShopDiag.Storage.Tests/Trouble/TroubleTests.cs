using ShopDiag.Storage.Backups;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Writing;

namespace ShopDiag.Storage.Tests.Trouble;

/// <summary>A disk that is full or that cannot be written: said in words, what was saved stays readable, and it goes on when there is room.</summary>
public sealed class TroubleTests
{
    [Fact]
    public async Task A_full_disk_is_said_in_words_reading_goes_on_and_so_does_writing_once_there_is_room()
    {
        using var disk = SmallDisk.Mount(8);
        await using var shop = await TestShop.OpenAsync(Path.Combine(disk.Folder, "shop"));
        var order = await shop.OpenOrderAsync();
        var saved = 0;
        var heard = new List<string?>();
        shop.Trouble.Changed += () => heard.Add(shop.Trouble.Message);

        disk.Fill();
        var refusal = await Assert.ThrowsAsync<StorageTroubleException>(async () =>
        {
            for (; saved < 2000; saved++)
            {
                await shop.SetAsync(order, OrderField.ConcernText, new string((char)('a' + (saved % 26)), 7000));
            }
        });
        Assert.Contains("is full", refusal.Message, StringComparison.Ordinal);
        Assert.Contains("is full", shop.Trouble.Message, StringComparison.Ordinal);
        var text = (await shop.ReadAsync(order)).ConcernText;
        Assert.Equal(saved == 0 ? "" : new string((char)('a' + ((saved - 1) % 26)), 7000), text);
        Assert.Contains(order.Number, (await shop.Orders.OpenOrdersAsync()).Select(o => o.Number));
        await Assert.ThrowsAsync<BackupException>(() => shop.Backups.MakeAsync(BackupKind.Asked));
        Assert.Empty(shop.Backups.List());

        disk.Empty();
        Assert.Equal(SaveOutcome.Saved, (await shop.SetAsync(order, OrderField.ConcernText, "There is room again")).Outcome);
        Assert.Null(shop.Trouble.Message);
        Assert.Equal(2, heard.Count);
        Assert.Equal("ok", shop.Text("PRAGMA integrity_check"));
    }

    [Fact]
    public async Task Many_who_save_at_once_into_a_full_disk_all_hear_why_and_nothing_is_half_saved()
    {
        using var disk = SmallDisk.Mount(8);
        await using var shop = await TestShop.OpenAsync(Path.Combine(disk.Folder, "shop"));
        var order = await shop.OpenOrderAsync();
        disk.Fill();
        var tries = await Task.WhenAll(Enumerable.Range(0, 600).Select(async i =>
        {
            try
            {
                return (await shop.Orders.AddReadingAsync(order.Id, TestShop.Compression(1 + (i % 4), 1000 + i))).Outcome.ToString();
            }
            catch (Exception e)
            {
                return e is StorageTroubleException ? "trouble" : e.ToString();
            }
        }));
        Assert.Empty(tries.Except(["Saved", "trouble"]));
        Assert.Equal(tries.Count(t => t == "Saved"), (await shop.ReadAsync(order)).Readings.Length);
        disk.Empty();
        Assert.Equal("ok", shop.Text("PRAGMA integrity_check"));
    }

    [Fact]
    public async Task A_shop_opens_on_a_full_disk_and_can_be_read()
    {
        using var disk = SmallDisk.Mount(8);
        var folder = Path.Combine(disk.Folder, "shop");
        RepairOrder order;
        await using (var first = await TestShop.OpenAsync(folder))
        {
            order = await first.OpenOrderAsync();
        }

        disk.Fill();
        await using var shop = await TestShop.OpenAsync(folder);
        Assert.Equal(order.Number, (await shop.ReadAsync(order)).Number);
    }

    [Fact]
    public async Task A_folder_that_became_read_only_is_said_in_words_and_its_records_can_be_read_also_by_a_new_start()
    {
        using var disk = SmallDisk.Mount(8);
        var folder = Path.Combine(disk.Folder, "shop");
        RepairOrder order;
        await using (var first = await TestShop.OpenAsync(folder))
        {
            order = await first.OpenOrderAsync();
        }

        disk.ReadOnly(true);
        await using (var shop = await TestShop.OpenAsync(folder))
        {
            Assert.Contains("cannot be written", shop.Trouble.Message, StringComparison.Ordinal);
            Assert.Equal(order.Number, (await shop.ReadAsync(order)).Number);
            var refusal = await Assert.ThrowsAsync<StorageTroubleException>(() => shop.SetAsync(order, OrderField.ConcernText, "x"));
            Assert.Contains("cannot be written", refusal.Message, StringComparison.Ordinal);
            Assert.Equal(order.Number, (await shop.ReadAsync(order)).Number);
        }

        disk.ReadOnly(false);
        await using var again = await TestShop.OpenAsync(folder);
        Assert.Equal(SaveOutcome.Saved, (await again.SetAsync(order, OrderField.ConcernText, "x")).Outcome);
    }
}
