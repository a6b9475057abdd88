using System.Text.Json;

namespace ShopDiag.Storage.Tests.Writing;

public sealed class KilledProcessTests
{
    private static readonly Guid Order = Guid.Parse("11111111-2222-4333-8444-555555555555");

    // SHOPDIAG_KILLS=200 for the full number.
    private static readonly int Kills = int.TryParse(Environment.GetEnvironmentVariable("SHOPDIAG_KILLS"), out var kills) ? kills : 30;

    [Fact]
    public async Task What_was_acknowledged_is_there_after_every_kill_and_nothing_is_there_twice()
    {
        await using var shop = TestShop.Closed();
        var chance = new Random(20260302);
        var acknowledged = new HashSet<int>();
        for (var kill = 0; kill < Kills; kill++)
        {
            // As a tablet would after a lost connection, each run sends some readings again that may or may not have been saved.
            var first = Math.Max(1, acknowledged.DefaultIfEmpty(0).Max() - 40);
            using var writer = WriterProcess.Start(shop.Folder, Order, first);
            acknowledged.UnionWith(await writer.KillAfterAsync(1 + chance.Next(120), TimeSpan.FromMilliseconds(chance.Next(30))));
            // Now, and not at the end: what is sent again would cover up what was lost.
            Assert.Empty(acknowledged.Except(Kept(shop)));
        }

        await using var again = await TestShop.OpenAsync(shop.Folder);
        Assert.Equal("ok", again.Text("PRAGMA integrity_check"));
        Assert.Equal(0, again.Scalar("SELECT count(*) FROM pragma_foreign_key_check"));
        var kept = Kept(again);
        Assert.Equal(kept.Length, kept.Distinct().Count());
        Assert.Equal(Enumerable.Range(1, kept.Length), (await again.Orders.GetAsync(Order))!.Readings.Select(r => r.Sequence));
    }

    [Fact]
    public async Task A_start_that_was_killed_anywhere_is_followed_by_one_that_works()
    {
        await using var shop = TestShop.Closed();
        for (var milliseconds = 150; milliseconds <= 750; milliseconds += 100)
        {
            using var writer = WriterProcess.Start(shop.Folder, Order, 1);
            await writer.KillAtAsync(TimeSpan.FromMilliseconds(milliseconds));
        }

        await using var again = await TestShop.OpenAsync(shop.Folder).WaitAsync(TimeSpan.FromSeconds(30));
        Assert.Equal("ok", again.Text("PRAGMA integrity_check"));
        await again.OpenOrderAsync();
    }

    [Fact]
    public async Task A_second_process_on_the_same_folder_is_told_which_folder_and_what_to_do()
    {
        await using var shop = await TestShop.OpenAsync();
        using var second = WriterProcess.Start(shop.Folder, Order, 1);
        var (code, error) = await second.EndAsync();
        Assert.Equal(3, code);
        Assert.Contains(shop.Folder, error, StringComparison.Ordinal);
        Assert.Contains("in use by another ShopDiag", error, StringComparison.Ordinal);
        Assert.Contains("--data", error, StringComparison.Ordinal);
    }

    /// <summary>The numbers of the readings in the database, read as a stranger would.</summary>
    private static int[] Kept(TestShop shop) =>
        JsonSerializer.Deserialize<int[]>(shop.Text("SELECT json_group_array(CAST(json_extract(ValueJson, '$.kPa') AS INTEGER)) FROM Readings"))!;
}
