using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Time.Testing;
using ShopDiag.Diagnosis;
using ShopDiag.Storage;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Shop;
using ShopDiag.Storage.Writing;

namespace ShopDiag.Web.Tests.Support;

/// <summary>A shop on a real database in a folder of its own, gone after the test.</summary>
public sealed class TestShop : IAsyncDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("shopdiag-web-").FullName;
    private readonly ServiceProvider _services;

    private TestShop()
    {
        Time = new FakeTimeProvider(new DateTimeOffset(2026, 3, 5, 9, 0, 0, TimeSpan.Zero));
        Time.SetLocalTimeZone(TimeZoneInfo.Utc);
        _services = new ServiceCollection().AddLogging().AddSingleton<TimeProvider>(Time).AddShopStorage(_folder).BuildServiceProvider();
    }

    public FakeTimeProvider Time { get; }

    public OrderStore Orders => _services.GetRequiredService<OrderStore>();

    public ShopStore Shops => _services.GetRequiredService<ShopStore>();

    public ChangeBus Bus => _services.GetRequiredService<ChangeBus>();

    public static async Task<TestShop> OpenAsync()
    {
        var shop = new TestShop();
        await shop._services.OpenShopAsync();
        await shop.Shops.SaveAsync(new ShopSettings { Name = "Test Garage" });
        return shop;
    }

    public async Task<RepairOrder> NewOrderAsync(params (OrderField Field, string Text)[] fields)
    {
        var order = await Orders.OpenAsync(Guid.NewGuid(), "Ann");
        foreach (var (field, text) in fields)
        {
            var saved = await SetAsync(order.Id, field, text);
            Assert.Equal(SaveOutcome.Saved, saved.Outcome);
        }

        return (await Orders.GetAsync(order.Id))!;
    }

    public Task<SaveResult> SetAsync(Guid order, OrderField field, string text) =>
        Orders.SetFieldAsync(order, field, text, null, Guid.NewGuid(), "Ann");

    public Task<SaveResult> PutEngineAsync(Guid order, string profile)
    {
        var found = Knowledge.Shipped.Profiles.Single(p => p.Id == profile);
        return Orders.SetEngineAsync(order, found.Spec, found.Title, Guid.NewGuid(), "Ann");
    }

    public async ValueTask DisposeAsync()
    {
        await _services.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }
}
