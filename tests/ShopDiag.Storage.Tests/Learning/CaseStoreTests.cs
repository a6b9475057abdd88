using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Infrastructure;
using Microsoft.EntityFrameworkCore.Migrations;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Learning;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Storage.Orders;

namespace ShopDiag.Storage.Tests.Learning;

/// <summary>Which diagnoses of the shop are counted.</summary>
public sealed class CaseStoreTests
{
    private static readonly EngineFamily Fours = EngineFamily.Of(TestShop.Four);

    [Fact]
    public async Task A_finding_taken_over_with_its_proof_counts_by_cause_and_engine_family()
    {
        await using var shop = await TestShop.OpenAsync();
        await ProvenAsync(shop, "coil-failed");
        await ProvenAsync(shop, "coil-failed");
        await ProvenAsync(shop, "plug-worn", TestShop.Four with { Injection = Injection.Direct });
        Assert.Equal([new("coil-failed", Fours, 2), new("plug-worn", Fours with { Injection = Injection.Direct }, 1)], await shop.Cases.CountAsync());
    }

    [Fact]
    public async Task An_order_counts_once_for_a_cause_and_for_each_of_its_causes()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await OrderAsync(shop);
        var finding = Finding("coil-failed", "coil-failed", "plug-worn");
        await TakeAsync(shop, order, finding);
        await TakeAsync(shop, order, finding);
        Assert.Equal([new("coil-failed", Fours, 1), new("plug-worn", Fours, 1)], await shop.Cases.CountAsync());
    }

    [Fact]
    public async Task A_repeated_command_counts_no_second_time()
    {
        await using var shop = await TestShop.OpenAsync();
        var (order, command) = (await OrderAsync(shop), Guid.NewGuid());
        await shop.Orders.SetFindingAsync(order.Id, Finding("coil-failed"), command);
        Assert.Equal(SaveOutcome.AlreadySaved, (await shop.Orders.SetFindingAsync(order.Id, Finding("plug-worn"), command)).Outcome);
        Assert.Equal([new("coil-failed", Fours, 1)], await shop.Cases.CountAsync());
    }

    [Fact]
    public async Task A_finding_without_proof_counts_for_nothing()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await OrderAsync(shop);
        await TakeAsync(shop, order, Finding("coil-failed") with { UnprovenReason = "The customer insists." });
        Assert.Empty(await shop.Cases.CountAsync());
        await TakeAsync(shop, order, Finding("coil-failed") is var f ? f with { Conclusion = f.Conclusion with { Proof = [] } } : null);
        Assert.Empty(await shop.Cases.CountAsync());
    }

    [Fact]
    public async Task A_finding_taken_back_or_replaced_counts_no_more_and_stays_on_record()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await ProvenAsync(shop, "coil-failed");
        await TakeAsync(shop, order, Finding("plug-worn"));
        Assert.Equal([new("plug-worn", Fours, 1)], await shop.Cases.CountAsync());
        await TakeAsync(shop, order, null);
        Assert.Empty(await shop.Cases.CountAsync());
        await TakeAsync(shop, order, Finding("coil-failed"));
        Assert.Equal([new("coil-failed", Fours, 1)], await shop.Cases.CountAsync());
        Assert.Equal(4, shop.Scalar("SELECT count(*) FROM Findings"));
    }

    [Fact]
    public async Task A_corrected_engine_takes_the_cases_of_the_vehicle_along()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await ProvenAsync(shop, "coil-failed");
        await shop.Orders.SetEngineAsync(order.Id, TestShop.Four with { Ignition = Ignition.WasteSpark }, "Four", Guid.NewGuid(), "Rosa");
        Assert.Equal([new("coil-failed", Fours with { Ignition = Ignition.WasteSpark }, 1)], await shop.Cases.CountAsync());
    }

    [Fact]
    public async Task Another_vehicle_on_the_order_takes_its_cases_along()
    {
        await using var shop = await TestShop.OpenAsync();
        var direct = await OrderAsync(shop, TestShop.Four with { Injection = Injection.Direct });
        var order = await ProvenAsync(shop, "coil-failed");
        await shop.Orders.UseVehicleAsync(order.Id, (await shop.ReadAsync(direct)).Vehicle.Id, Guid.NewGuid());
        Assert.Equal([new("coil-failed", Fours with { Injection = Injection.Direct }, 1)], await shop.Cases.CountAsync());
    }

    [Fact]
    public async Task Without_an_engine_there_is_nothing_to_count_by_until_one_is_chosen()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await shop.OpenOrderAsync();
        await TakeAsync(shop, order, Finding("coil-failed"));
        Assert.Empty(await shop.Cases.CountAsync());
        await shop.Orders.SetEngineAsync(order.Id, TestShop.Four, "Four", Guid.NewGuid(), "Rosa");
        Assert.Equal([new("coil-failed", Fours, 1)], await shop.Cases.CountAsync());
    }

    [Fact]
    public async Task An_order_can_be_left_out_so_that_it_is_no_reason_for_itself()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await ProvenAsync(shop, "coil-failed");
        await ProvenAsync(shop, "coil-failed");
        Assert.Equal([new("coil-failed", Fours, 1)], await shop.Cases.CountAsync(order.Id));
    }

    [Fact]
    public async Task A_figure_opens_the_orders_behind_it()
    {
        await using var shop = await TestShop.OpenAsync();
        var (one, two) = (await ProvenAsync(shop, "coil-failed"), await ProvenAsync(shop, "coil-failed", TestShop.Four with { Injection = Injection.Direct }));
        await ProvenAsync(shop, "plug-worn");
        Assert.Equal([two.Number, one.Number], await shop.Cases.OrdersAsync("coil-failed", null, 10));
        Assert.Equal([two.Number], await shop.Cases.OrdersAsync("coil-failed", null, 1));
        Assert.Equal([one.Number], await shop.Cases.OrdersAsync("coil-failed", Fours, 10));
    }

    [Fact]
    public async Task The_migration_counts_what_was_proven_before_it()
    {
        await using var shop = await TestShop.OpenAsync();
        await shop.Shop.LoadDemoAsync();
        var direct = await OrderAsync(shop, TestShop.Four with { Injection = Injection.Direct });
        await TakeAsync(shop, direct, Finding("coil-failed", "plug-worn", "coil-failed"));
        await TakeAsync(shop, await ProvenAsync(shop, "plug-worn"), null);
        await TakeAsync(shop, await OrderAsync(shop), Finding("coil-failed") with { UnprovenReason = "In a hurry." });
        const string All = "SELECT group_concat(OrderId || Cause || EngineFamily || ProvenAt, ';') FROM (SELECT * FROM ProvenDiagnoses ORDER BY OrderId, Cause)";
        var kept = shop.Text(All);
        await using var db = shop.Context();
        await db.GetService<IMigrator>().MigrateAsync("FirstShop");
        await db.Database.MigrateAsync();
        Assert.Equal(kept, shop.Text(All));
        Assert.True((await shop.Shop.GetAsync())!.LearnFromCases);
    }

    [Fact]
    public async Task The_switch_is_kept()
    {
        await using var shop = await TestShop.OpenAsync();
        await shop.Shop.SaveAsync(new() { Name = "Own shop" });
        Assert.True((await shop.Shop.GetAsync())!.LearnFromCases);
        await shop.Shop.SaveAsync(new() { Name = "Own shop", LearnFromCases = false });
        Assert.False((await shop.Shop.GetAsync())!.LearnFromCases);
    }

    [Fact]
    public async Task Counting_reads_the_index_alone()
    {
        await using var shop = await TestShop.OpenAsync();
        var plan = shop.Plan("SELECT Cause, EngineFamily, count(*) FROM ProvenDiagnoses WHERE OrderId <> 'x' GROUP BY Cause, EngineFamily ORDER BY Cause, EngineFamily");
        Assert.Equal(["SCAN ProvenDiagnoses USING COVERING INDEX IX_ProvenDiagnoses_Cause_EngineFamily_OrderId"], plan);
    }

    private static async Task<RepairOrder> OrderAsync(TestShop shop, EngineSpec? engine = null)
    {
        var order = await shop.OpenOrderAsync();
        await shop.Orders.SetEngineAsync(order.Id, engine ?? TestShop.Four, "Four", Guid.NewGuid(), "Rosa");
        return order;
    }

    private static async Task<RepairOrder> ProvenAsync(TestShop shop, string cause, EngineSpec? engine = null)
    {
        var order = await OrderAsync(shop, engine);
        await TakeAsync(shop, order, Finding(cause));
        return order;
    }

    private static async Task TakeAsync(TestShop shop, RepairOrder order, OrderFinding? finding) =>
        Assert.Equal(SaveOutcome.Saved, (await shop.Orders.SetFindingAsync(order.Id, finding, Guid.NewGuid())).Outcome);

    private static OrderFinding Finding(params string[] causes) => new()
    {
        Conclusion = new(
            [.. causes.Select((c, i) => new ProvenCause(c, Place.Cylinder(i + 1)))],
            [new ProofReading("coil-swap", Place.Cylinder(1), "follows", "The misfire went with the coil.")],
            new Repair("Replace it.", [], 20, ["power-balance"])),
        Probability = 0.97,
        At = new DateTime(2026, 3, 2, 9, 0, 0, 250, DateTimeKind.Utc),
        By = "Lena",
    };
}
