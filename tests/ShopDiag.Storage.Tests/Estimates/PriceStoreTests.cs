using ShopDiag.Estimates;
using ShopDiag.Storage.Estimates;
using ShopDiag.Storage.Orders;

namespace ShopDiag.Storage.Tests.Estimates;

public sealed class PriceStoreTests
{
    private static readonly PriceEntry Coil = new() { Kind = LineKind.Part, Name = "Ignition coil", PriceMinor = 6890 };

    [Fact]
    public async Task An_entry_changes_its_name_without_leaving_the_old_one_behind()
    {
        await using var shop = await TestShop.OpenAsync();
        await Prices(shop).SaveAsync(Coil, "");
        var saved = await Prices(shop).SaveAsync(Coil with { Name = "Coil on plug" }, Coil.Key);

        Assert.Equal((SaveOutcome.Saved, "Part|coil on plug|"), (saved.Outcome, saved.Current));
        Assert.Equal(["Coil on plug"], (await Prices(shop).GetAsync()).Entries.Select(e => e.Name));
    }

    [Fact]
    public async Task A_new_entry_never_covers_another_without_a_word()
    {
        await using var shop = await TestShop.OpenAsync();
        await Prices(shop).SaveAsync(Coil, "");
        var plug = Coil with { Name = "Spark plug" };
        await Prices(shop).SaveAsync(plug, "");

        Assert.Equal(SaveOutcome.Refused, (await Prices(shop).SaveAsync(Coil with { Name = "IGNITION  coil", PriceMinor = 1 }, "")).Outcome);
        Assert.Equal(SaveOutcome.Refused, (await Prices(shop).SaveAsync(plug with { Name = Coil.Name, PriceMinor = 1 }, plug.Key)).Outcome);
        Assert.Equal([Coil, plug], (await Prices(shop).GetAsync()).Entries);
        // The same again is harmless.
        Assert.Equal(SaveOutcome.Saved, (await Prices(shop).SaveAsync(Coil, "")).Outcome);
        Assert.Equal(2, (await Prices(shop).GetAsync()).Entries.Length);
    }

    [Fact]
    public async Task What_no_keyboard_makes_is_taken_out_before_the_key_is_made()
    {
        await using var shop = await TestShop.OpenAsync();
        Assert.Equal(1, await Prices(shop).PutAsync([Coil with { Name = "Ignition\u0000 coil\n", Vendor = "A\uD800" }]));
        var entry = Assert.Single((await Prices(shop).GetAsync()).Entries);
        Assert.Equal(("Ignition coil", "A\uFFFD", Coil.Key), (entry.Name, entry.Vendor, entry.Key));
    }

    private static PriceStore Prices(TestShop shop) => (PriceStore)shop.Services.GetService(typeof(PriceStore))!;
}
