using ShopDiag.Storage.Orders;

namespace ShopDiag.Storage.Tests;

public sealed class FrameTests
{
    [Fact]
    public async Task Smoke()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await shop.OpenOrderAsync();
        Assert.Equal(1001, order.Number);
        Assert.Equal(SaveOutcome.Saved, (await shop.SetAsync(order, OrderField.VehiclePlate, "AB 123")).Outcome);
        Assert.Equal(SaveOutcome.Saved, (await shop.Orders.SetEngineAsync(order.Id, TestShop.Four, "Four", Guid.NewGuid(), "Rosa")).Outcome);
        Assert.Equal(SaveOutcome.Saved, (await shop.Orders.AddReadingAsync(order.Id, TestShop.Compression(2, 1200))).Outcome);
        order = await shop.ReadAsync(order);
        Assert.Equal("AB 123", order.FieldText(OrderField.VehiclePlate));
        Assert.Single(order.Readings);
        Assert.Single(await shop.Orders.OpenOrdersAsync());
        Assert.Single(await shop.Orders.FindAsync("ab123"));
        await shop.Shop.SaveAsync(new());
        Assert.NotNull(await shop.Shop.GetAsync());
    }
}
