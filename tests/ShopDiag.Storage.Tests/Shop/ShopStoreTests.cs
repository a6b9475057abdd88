using ShopDiag.Storage.Shop;

namespace ShopDiag.Storage.Tests.Shop;

public sealed class ShopStoreTests
{
    [Fact]
    public async Task An_empty_folder_has_no_shop_until_somebody_starts_one()
    {
        await using var shop = await TestShop.OpenAsync();
        Assert.Null(await shop.Shop.GetAsync());
        await shop.Shop.SaveAsync(new() { Name = "Own shop" });
        Assert.Equal("Own shop", (await shop.Shop.GetAsync())!.Name);
        await shop.Shop.SaveAsync(new() { Name = "Renamed", LabourPerHourMinor = 12_345 });
        var kept = (await shop.Shop.GetAsync())!;
        Assert.Equal(("Renamed", 12_345, false), (kept.Name, kept.LabourPerHourMinor, kept.IsDemo));
    }

    [Fact]
    public async Task Settings_that_cannot_be_are_a_mistake_of_the_program()
    {
        await using var shop = await TestShop.OpenAsync();
        ShopSettings[] wrong =
        [
            new() { Currency = "usd" }, new() { Currency = "" }, new() { LabourPerHourMinor = -1 }, new() { UnitSystem = "imperial" },
            new() { Paper = "a3" }, new() { AltitudeMetres = double.NaN }, new() { Tools = default },
        ];
        foreach (var settings in wrong)
        {
            await Assert.ThrowsAsync<ArgumentException>(() => shop.Shop.SaveAsync(settings));
        }

        Assert.Null(await shop.Shop.GetAsync());
    }
}
