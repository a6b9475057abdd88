using Microsoft.Extensions.DependencyInjection;
using ShopDiag.Comebacks.Repairs;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Estimates;
using ShopDiag.Storage.Comebacks;
using ShopDiag.Storage.Estimates;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.People;
using ShopDiag.Storage.Tests.People;

namespace ShopDiag.Storage.Tests.Orders;

/// <summary>Orders made by mistake, and parts that are not on the car when the order goes on.</summary>
public sealed class MistakeTests
{
    private const string Why = "Written up twice.";

    [Fact]
    public async Task An_order_made_by_mistake_leaves_the_open_orders_and_the_figures_and_stays_to_be_found()
    {
        await using var shop = await TestShop.OpenAsync();
        var (right, mistake) = (await shop.OpenOrderAsync(), await shop.OpenOrderAsync());
        await shop.SetAsync(mistake, OrderField.VehiclePlate, "QHV 4417");
        Assert.Equal(2, (await CasesAsync(shop)).Length);
        Assert.Equal(SaveOutcome.Refused, (await MoveAsync(shop, mistake, OrderStage.MadeByMistake, "  ")).Outcome);
        Assert.Equal(SaveOutcome.Saved, (await MoveAsync(shop, mistake, OrderStage.MadeByMistake, Why)).Outcome);

        Assert.Equal([right.Number], (await shop.Orders.OpenOrdersAsync()).Select(o => o.Number));
        Assert.Equal([right.Number], (await Store(shop).OpenOrdersAsync(TimeZoneInfo.Utc)).Select(o => o.Number));
        Assert.Equal([right.Number], (await CasesAsync(shop)).Select(c => c.Number));
        var found = Assert.Single(await shop.Orders.FindAsync("qhv4417"));
        Assert.Equal((mistake.Number, OrderStage.MadeByMistake), (found.Number, found.Stage));
        var kept = (await shop.ReadAsync(mistake)).Moves[^1];
        Assert.Equal((OrderStage.MadeByMistake, "Rosa", Why), (kept.Stage, kept.By, kept.Reason));
    }

    [Fact]
    public async Task Opened_again_it_stands_where_it_stood_and_counts_again()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await shop.OpenOrderAsync();
        await MoveAsync(shop, order, OrderStage.InDiagnosis);
        await MoveAsync(shop, order, OrderStage.MadeByMistake, Why);
        Assert.Equal(OrderStage.InDiagnosis, StepRules.StoodAt(await shop.ReadAsync(order)));
        Assert.Equal(SaveOutcome.Refused, (await MoveAsync(shop, order, OrderStage.Ready)).Outcome);
        Assert.Equal(SaveOutcome.Saved, (await MoveAsync(shop, order, OrderStage.InDiagnosis)).Outcome);
        Assert.Equal([order.Number], (await shop.Orders.OpenOrdersAsync()).Select(o => o.Number));
        Assert.Single(await CasesAsync(shop));
    }

    [Fact]
    public async Task What_was_proven_on_it_teaches_the_shop_nothing_until_it_is_opened_again()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await shop.OpenOrderAsync();
        await shop.Orders.SetEngineAsync(order.Id, TestShop.Four, "I4", Guid.NewGuid(), "Rosa");
        await shop.Orders.SetFindingAsync(order.Id, Proven(shop), Guid.NewGuid());
        Assert.Single(await shop.Cases.CountAsync());
        await MoveAsync(shop, order, OrderStage.MadeByMistake, Why);
        Assert.Empty(await shop.Cases.CountAsync());
        // Written on after it was closed: still nothing.
        await shop.Orders.SetFindingAsync(order.Id, Proven(shop), Guid.NewGuid());
        await shop.Orders.SetEngineAsync(order.Id, TestShop.Four, "I4 again", Guid.NewGuid(), "Rosa");
        Assert.Empty(await shop.Cases.CountAsync());
        await MoveAsync(shop, order, OrderStage.WrittenUp);
        Assert.Single(await shop.Cases.CountAsync());
    }

    [Fact]
    public async Task A_repair_that_never_was_has_no_comeback_and_a_return_that_never_was_is_none()
    {
        await using var shop = await TestShop.OpenAsync();
        var repair = await shop.OpenOrderAsync();
        await shop.Orders.SetFindingAsync(repair.Id, Proven(shop), Guid.NewGuid());
        await MoveAsync(shop, repair, OrderStage.InRepair, "asked for");
        await MoveAsync(shop, repair, OrderStage.HandedOver, "asked for");
        var back = await shop.OpenOrderAsync();
        await shop.Orders.UseVehicleAsync(back.Id, (await shop.ReadAsync(repair)).Vehicle.Id, Guid.NewGuid());
        await Store(shop).AnswerComebackAsync(back.Id, repair.Id, ComebackAnswer.Yes, "Rosa", Guid.NewGuid());

        await MoveAsync(shop, back, OrderStage.MadeByMistake, Why);
        var only = Assert.Single(await CasesAsync(shop));
        Assert.Equal((repair.Number, (VehicleVisit?)null), (only.Number, only.LastSeen));
        await MoveAsync(shop, back, OrderStage.WrittenUp);
        await MoveAsync(shop, repair, OrderStage.MadeByMistake, Why);
        Assert.Equal([back.Number], (await CasesAsync(shop)).Select(c => c.Number));
        Assert.Empty((await shop.ReadAsync(back)).EarlierRepairs);
    }

    [Fact]
    public async Task An_order_for_which_parts_were_got_is_closed_only_once_they_are_accounted_for()
    {
        await using var shop = await DemoAsync();
        var order = (await shop.Orders.GetByNumberAsync(1009))!;
        var refused = await MoveAsync(shop, order, OrderStage.MadeByMistake, Why);
        Assert.Equal(SaveOutcome.Refused, refused.Outcome);
        Assert.Contains("2 × Exhaust valve", refused.Message, StringComparison.Ordinal);
        foreach (var part in order.Parts.Where(p => p.State != PartState.Wanted))
        {
            await Parts(shop).MoveAsync(part.Id, PartState.Returned, part.Quantity, Guid.NewGuid(), "Ruth");
        }

        Assert.Equal(SaveOutcome.Saved, (await MoveAsync(shop, order, OrderStage.MadeByMistake, Why)).Outcome);
        Assert.DoesNotContain(await Parts(shop).MissingAsync(), p => p.OrderNumber == 1009);
    }

    [Fact]
    public async Task A_technician_closes_what_he_wrote_up_and_not_what_a_figure_or_a_customer_hangs_on()
    {
        var acting = new Acting();
        var folder = TestShop.NewFolder();
        await using (var services = await acting.OpenAsync(folder))
        {
            var orders = services.GetRequiredService<OrderStore>();
            var order = await orders.OpenAsync(Guid.NewGuid(), "Rosa");
            acting.Current = Acting.Somebody(PersonRole.Technician);
            Task<SaveResult> MoveAsync(OrderStage to) => orders.MoveAsync(order.Id, to, "", Why, Guid.NewGuid());
            Assert.Equal(SaveOutcome.Saved, (await MoveAsync(OrderStage.MadeByMistake)).Outcome);
            Assert.Equal(SaveOutcome.Saved, (await MoveAsync(OrderStage.WrittenUp)).Outcome);
            acting.Current = Actor.Program;
            await orders.SetFindingAsync(order.Id, Proven(DateTime.UtcNow), Guid.NewGuid());
            acting.Current = Acting.Somebody(PersonRole.Technician);
            Assert.Equal(SaveOutcome.Refused, (await MoveAsync(OrderStage.MadeByMistake)).Outcome);
            acting.Current = Acting.Somebody(PersonRole.Advisor);
            Assert.Equal(SaveOutcome.Saved, (await MoveAsync(OrderStage.MadeByMistake)).Outcome);
        }

        Directory.Delete(folder, recursive: true);
    }

    [Theory]
    [InlineData(PartState.Wanted, true)]
    [InlineData(PartState.Ordered, true)]
    [InlineData(PartState.Received, true)]
    [InlineData(PartState.Fitted, false)]
    [InlineData(PartState.Returned, false)]
    public async Task A_car_comes_from_the_lift_without_its_parts_only_for_a_reason(PartState state, bool asks)
    {
        await using var shop = await DemoAsync();
        var order = (await shop.Orders.GetByNumberAsync(1009))!;
        foreach (var part in order.Parts)
        {
            await Parts(shop).MoveAsync(part.Id, state, part.Quantity, Guid.NewGuid(), "Ruth");
        }

        await MoveAsync(shop, order, OrderStage.InRepair, "asked for");
        var repaired = await MoveAsync(shop, order, OrderStage.RepairCheck);
        Assert.Equal(asks ? SaveOutcome.Refused : SaveOutcome.Saved, repaired.Outcome);
        Assert.Equal(asks, repaired.Message.Contains("2 × Exhaust valve", StringComparison.Ordinal));
        if (asks)
        {
            Assert.Equal(SaveOutcome.Saved, (await MoveAsync(shop, order, OrderStage.RepairCheck, "The old ones were good.")).Outcome);
            Assert.Equal("The old ones were good.", (await shop.ReadAsync(order)).Moves[^1].Reason);
        }
    }

    [Fact]
    public async Task The_parts_are_asked_for_from_the_lift_and_at_the_door_and_not_in_between()
    {
        await using var shop = await DemoAsync();
        var order = (await shop.Orders.GetByNumberAsync(1009))!;
        await MoveAsync(shop, order, OrderStage.RepairCheck, "The old ones were good.");
        order = await shop.ReadAsync(order);
        Assert.DoesNotContain("Exhaust valve", StepRules.AsksReason(order, OrderStage.Ready, null), StringComparison.Ordinal);
        Assert.Contains("Exhaust valve", StepRules.AsksReason(order, OrderStage.HandedOver, null), StringComparison.Ordinal);
    }

    private static ComebackStore Store(TestShop shop) => shop.Services.GetRequiredService<ComebackStore>();

    private static PartStore Parts(TestShop shop) => shop.Services.GetRequiredService<PartStore>();

    private static async Task<RepairCase[]> CasesAsync(TestShop shop) => [.. await Store(shop).CasesAsync(TimeZoneInfo.Utc, ComebackWindow.Usual)];

    private static Task<SaveResult> MoveAsync(TestShop shop, RepairOrder order, OrderStage stage, string reason = "") =>
        shop.Orders.MoveAsync(order.Id, stage, "Rosa", reason, Guid.NewGuid());

    private static OrderFinding Proven(TestShop shop) => Proven(shop.Clock.GetUtcNow().UtcDateTime);

    private static OrderFinding Proven(DateTime at) => new()
    {
        Conclusion = new([new ProvenCause("coil-failed", Place.Cylinder(3))], [new ProofReading("coil-swap", Place.Cylinder(3), "follows", "It went along.")], new Repair("Replace it.", [], 20, [])),
        Probability = 0.97,
        At = at,
        By = "Lena",
    };

    private static async Task<TestShop> DemoAsync()
    {
        var shop = await TestShop.OpenAsync();
        await shop.Shop.LoadDemoAsync();
        return shop;
    }
}
