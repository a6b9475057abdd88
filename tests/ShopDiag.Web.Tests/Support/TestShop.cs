using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Time.Testing;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Estimates;
using ShopDiag.Storage;
using ShopDiag.Storage.Backups;
using ShopDiag.Storage.Estimates;
using ShopDiag.Storage.Comebacks;
using ShopDiag.Storage.Learning;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Personal;
using ShopDiag.Storage.Photos;
using ShopDiag.Storage.Recordings;
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

    public RecordingStore Recordings => _services.GetRequiredService<RecordingStore>();

    public EstimateStore Estimates => _services.GetRequiredService<EstimateStore>();

    public PhotoStore Photos => _services.GetRequiredService<PhotoStore>();

    public ShopLogo Logo => _services.GetRequiredService<ShopLogo>();

    public PartStore Parts => _services.GetRequiredService<PartStore>();

    public PriceStore Prices => _services.GetRequiredService<PriceStore>();

    public ComebackStore Comebacks => _services.GetRequiredService<ComebackStore>();

    public string Folder => _folder;

    public BackupStore Backups => _services.GetRequiredService<BackupStore>();

    public CustomerStore Customers => _services.GetRequiredService<CustomerStore>();

    public StorageTrouble Trouble => _services.GetRequiredService<StorageTrouble>();

    public CaseStore Cases => _services.GetRequiredService<CaseStore>();

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

    /// <summary>Orders on which a cause has been proven and taken over.</summary>
    public async Task<RepairOrder[]> ProveAsync(string profile, string cause, int cases)
    {
        var orders = new RepairOrder[cases];
        for (var i = 0; i < cases; i++)
        {
            orders[i] = await NewOrderAsync();
            await PutEngineAsync(orders[i].Id, profile);
            var conclusion = new Conclusion(
                [new ProvenCause(cause, Place.Cylinder(1))], [new ProofReading("coil-swap", Place.Cylinder(1), "follows", "It went along.")], new Repair("Replace it.", [], 20, []));
            var finding = new OrderFinding { Conclusion = conclusion, Probability = 0.97, At = Time.GetUtcNow().UtcDateTime, By = "Ann" };
            Assert.Equal(SaveOutcome.Saved, (await Orders.SetFindingAsync(orders[i].Id, finding, Guid.NewGuid())).Outcome);
        }

        return orders;
    }

    /// <summary>A part on an order that the customer approved in writing.</summary>
    public async Task<PartOnOrder> ApprovedPartAsync(Guid order, string text, int pieces = 1, params (LineField Field, string Text)[] fields)
    {
        var line = Guid.NewGuid();
        await Estimates.AddLineAsync(order, line, LineKind.Part, Guid.NewGuid(), "Ann");
        foreach (var (field, value) in fields.Append((LineField.Text, text)).Append((LineField.Quantity, $"{pieces}")).Append((LineField.Price, "10")))
        {
            Assert.Equal(SaveOutcome.Saved, (await Estimates.SetLineAsync(order, line, field, value, null, Guid.NewGuid(), "Ann")).Outcome);
        }

        var total = LineAmounts.Of((await Orders.GetAsync(order))!.Estimate.Single(l => l.Id == line)).Total;
        var yes = new Approval { Id = Guid.NewGuid(), At = default, By = "Ann", Person = "Cy", Way = ApprovalWay.Writing, Contact = "e-mail", Decisions = [new(line, text, total, true)] };
        Assert.Equal(SaveOutcome.Saved, (await Estimates.ApproveAsync(order, yes)).Outcome);
        return (await Orders.GetAsync(order))!.Parts.Single(p => p.LineId == line);
    }

    public async ValueTask DisposeAsync()
    {
        await _services.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }
}
