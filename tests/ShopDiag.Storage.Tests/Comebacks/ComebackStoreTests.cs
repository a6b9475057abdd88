using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Infrastructure;
using Microsoft.EntityFrameworkCore.Migrations;
using Microsoft.Extensions.DependencyInjection;
using ShopDiag.Comebacks.Repairs;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Storage.Comebacks;
using ShopDiag.Storage.Orders;

namespace ShopDiag.Storage.Tests.Comebacks;

/// <summary>Cases made of a shop's orders, and what is said about comebacks.</summary>
public sealed class ComebackStoreTests
{
    private static ComebackStore Store(TestShop shop) => shop.Services.GetRequiredService<ComebackStore>();

    private static Task<SaveResult> SayAsync(TestShop shop, RepairOrder order, RepairOrder? earlier, ComebackAnswer answer, Guid? command = null) =>
        Store(shop).AnswerComebackAsync(order.Id, earlier?.Id, answer, "Rosa", command ?? Guid.NewGuid());

    /// <summary>A repair handed over, and the same car back thirty days later with the same code.</summary>
    private static async Task<(TestShop Shop, RepairOrder Repair, RepairOrder Return)> BackAsync()
    {
        var shop = await TestShop.OpenAsync();
        var repair = await shop.OpenOrderAsync();
        await shop.Orders.SetEngineAsync(repair.Id, TestShop.Four, "I4", Guid.NewGuid(), "Rosa");
        await shop.SetAsync(repair, OrderField.Technician, "Lena");
        await shop.SetAsync(repair, OrderField.Odometer, "100000");
        await shop.SetAsync(repair, OrderField.OdometerUnit, "mi");
        await shop.SetAsync(repair, OrderField.ConcernCodes, "P0303");
        await shop.Orders.AddReadingAsync(repair.Id, TestShop.Compression(3, 1200));
        await shop.Orders.SetFindingAsync(repair.Id, Finding(shop), Guid.NewGuid());
        await MoveAsync(shop, repair, OrderStage.InRepair);
        await MoveAsync(shop, repair, OrderStage.HandedOver);
        shop.Clock.Advance(TimeSpan.FromDays(30));
        var back = await shop.OpenOrderAsync();
        await shop.Orders.UseVehicleAsync(back.Id, (await shop.ReadAsync(repair)).Vehicle.Id, Guid.NewGuid());
        await shop.SetAsync(back, OrderField.ConcernCodes, "P0303");
        await shop.SetAsync(back, OrderField.Odometer, "101000");
        await shop.SetAsync(back, OrderField.OdometerUnit, "mi");
        return (shop, await shop.ReadAsync(repair), await shop.ReadAsync(back));
    }

    private static OrderFinding Finding(TestShop shop)
    {
        var at = Place.Cylinder(3);
        return new()
        {
            Conclusion = new([new("coil-failed", at)], [new("coil-swap", at, "follows", "It moved with the coil.")], RepairPlan.For(Engine.Create(TestShop.Four).Value, [(Knowledge.Shipped.Cause("coil-failed")!, at)])),
            Probability = 0.97,
            At = shop.Clock.GetUtcNow().UtcDateTime,
            By = "Lena",
        };
    }

    private static Task<SaveResult> MoveAsync(TestShop shop, RepairOrder order, OrderStage stage) => shop.Orders.MoveAsync(order.Id, stage, "Rosa", "asked for", Guid.NewGuid());

    [Fact]
    public async Task A_page_of_the_earlier_order_hears_of_the_answer_and_of_another_one_later()
    {
        var (shop, repair, back) = await BackAsync();
        await using var _ = shop;
        var heard = 0;
        using var listening = shop.Bus.Subscribe(repair.Id, _ => Interlocked.Increment(ref heard));
        await SayAsync(shop, back, repair, ComebackAnswer.Yes);
        Assert.True(SpinWait.SpinUntil(() => heard == 1, TimeSpan.FromSeconds(30)));
        await SayAsync(shop, back, null, ComebackAnswer.OtherTrouble);
        Assert.True(SpinWait.SpinUntil(() => heard == 2, TimeSpan.FromSeconds(30)));
    }

    [Fact]
    public async Task A_shop_without_orders_has_no_cases()
    {
        await using var shop = await TestShop.OpenAsync();
        Assert.Empty(await Store(shop).CasesAsync(TimeZoneInfo.Utc, new()));
    }

    [Fact]
    public async Task An_order_becomes_a_case_with_what_was_found_when_and_how_far_the_car_had_gone()
    {
        var (shop, repair, back) = await BackAsync();
        await using var _ = shop;
        var cases = await Store(shop).OfVehicleAsync(repair.Vehicle.Id, TimeZoneInfo.Utc);
        Assert.Equal([repair.Number, back.Number], cases.Select(c => c.Number));
        var first = cases[0];
        Assert.Equal([new RepairedCause("coil-failed", Place.Cylinder(3))], first.Repaired);
        Assert.Equal((new DateOnly(2026, 3, 2), (DateOnly?)new DateOnly(2026, 3, 2)), (first.CameInOn, first.HandedOverOn));
        Assert.Equal((160934, "Lena", "coil-on-plug/port/I4"), (first.OdometerKm!.Value, first.Technician, first.EngineFamily));
        Assert.Equal((true, false), (first.ProofGiven!.Value, first.RepairChecked!.Value));
        Assert.Equal(new VehicleVisit(new(2026, 4, 1), 162544), first.LastSeen);
        Assert.InRange(first.MinutesToProof!.Value, 1, 240);
        Assert.Equal((null, 0), (cases[1].HandedOverOn, cases[1].Repaired.Length));
    }

    [Fact]
    public async Task Days_are_those_of_the_shop_and_not_of_greenwich()
    {
        var (shop, repair, _) = await BackAsync();
        await using var __ = shop;
        // 8:00 in Greenwich is still the evening before at 9 hours west.
        var west = TimeZoneInfo.CreateCustomTimeZone("west", TimeSpan.FromHours(-9), "west", "west");
        var first = (await Store(shop).OfVehicleAsync(repair.Vehicle.Id, west))[0];
        Assert.Equal((new DateOnly(2026, 3, 1), (DateOnly?)new DateOnly(2026, 3, 1)), (first.CameInOn, first.HandedOverOn));
    }

    [Fact]
    public async Task Something_found_and_never_worked_on_is_no_repair()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await shop.OpenOrderAsync();
        await shop.Orders.SetFindingAsync(order.Id, Finding(shop), Guid.NewGuid());
        await MoveAsync(shop, order, OrderStage.HandedOver);
        Assert.Empty(Assert.Single(await Store(shop).CasesAsync(TimeZoneInfo.Utc, ComebackWindow.Usual)).Repaired);
    }

    [Fact]
    public async Task A_return_in_the_window_is_undecided_until_somebody_says_what_it_is()
    {
        var (shop, repair, back) = await BackAsync();
        await using var _ = shop;
        async Task<(ComebackAnswer, Guid?)> StandsAsync(ComebackWindow window) =>
            (await Store(shop).CasesAsync(TimeZoneInfo.Utc, window)).Where(c => c.OrderId == back.Id).Select(c => (c.Answer, c.ComebackOf)).Single();

        Assert.Equal((ComebackAnswer.Undecided, repair.Id), await StandsAsync(ComebackWindow.Usual));
        Assert.Equal((ComebackAnswer.Undecided, null), await StandsAsync(new(29, null)));
        Assert.Equal((ComebackAnswer.Undecided, null), await StandsAsync(new(365, 1600)));
        await SayAsync(shop, back, null, ComebackAnswer.OtherTrouble);
        Assert.Equal((ComebackAnswer.OtherTrouble, null), await StandsAsync(ComebackWindow.Usual));
    }

    [Fact]
    public async Task An_answer_is_kept_with_who_and_when_and_may_change()
    {
        var (shop, repair, back) = await BackAsync();
        await using var _ = shop;
        Assert.Equal(SaveOutcome.Saved, (await SayAsync(shop, back, repair, ComebackAnswer.Yes)).Outcome);
        var said = await shop.ReadAsync(back);
        Assert.Equal((repair.Id, ComebackAnswer.Yes, "Rosa", shop.Clock.GetUtcNow().UtcDateTime), (said.ComebackOf!.Value, said.ComebackAnswer, said.ComebackAnsweredBy, said.ComebackAnsweredAt!.Value));
        await SayAsync(shop, back, repair, ComebackAnswer.No);
        said = await shop.ReadAsync(back);
        Assert.Equal((null, ComebackAnswer.No), (said.ComebackOf, said.ComebackAnswer));
    }

    [Fact]
    public async Task The_reasoning_hears_of_the_earlier_repair_once_a_person_has_said_yes()
    {
        var (shop, repair, back) = await BackAsync();
        await using var _ = shop;
        Assert.Empty(back.EarlierRepairs);
        await SayAsync(shop, back, repair, ComebackAnswer.Yes);
        var workup = OrderWorkup.From(await shop.ReadAsync(back), new())!;
        var earlier = Assert.Single(workup.EarlierRepairs);
        Assert.Equal($"order {repair.Number}", earlier.Order);
        Assert.Equal([new ProvenCause("coil-failed", Place.Cylinder(3))], earlier.Causes);
        Assert.Contains(earlier.Parts, p => p.Part == "Ignition coil" && p.At == Place.Cylinder(3));
        await SayAsync(shop, back, repair, ComebackAnswer.No);
        Assert.Empty((await shop.ReadAsync(back)).EarlierRepairs);
    }

    [Fact]
    public async Task What_was_found_and_never_repaired_tells_the_reasoning_nothing()
    {
        await using var shop = await TestShop.OpenAsync();
        var first = await shop.OpenOrderAsync();
        await shop.Orders.SetFindingAsync(first.Id, Finding(shop), Guid.NewGuid());
        var back = await shop.OpenOrderAsync();
        await shop.Orders.UseVehicleAsync(back.Id, (await shop.ReadAsync(first)).Vehicle.Id, Guid.NewGuid());
        await SayAsync(shop, back, first, ComebackAnswer.Yes);
        Assert.Empty((await shop.ReadAsync(back)).EarlierRepairs);
        await MoveAsync(shop, first, OrderStage.InRepair);
        Assert.Single((await shop.ReadAsync(back)).EarlierRepairs);
    }

    [Fact]
    public async Task A_repeated_answer_has_no_second_effect()
    {
        var (shop, repair, back) = await BackAsync();
        await using var _ = shop;
        var command = Guid.NewGuid();
        await SayAsync(shop, back, repair, ComebackAnswer.Yes, command);
        await SayAsync(shop, back, null, ComebackAnswer.No);
        Assert.Equal(SaveOutcome.AlreadySaved, (await SayAsync(shop, back, repair, ComebackAnswer.Yes, command)).Outcome);
        Assert.Equal(ComebackAnswer.No, (await shop.ReadAsync(back)).ComebackAnswer);
    }

    [Fact]
    public async Task A_comeback_is_of_an_earlier_order_on_the_same_car()
    {
        var (shop, repair, back) = await BackAsync();
        await using var _ = shop;
        var stranger = await shop.OpenOrderAsync();
        Assert.Equal(SaveOutcome.Refused, (await SayAsync(shop, stranger, repair, ComebackAnswer.Yes)).Outcome);
        Assert.Equal(SaveOutcome.Refused, (await SayAsync(shop, repair, back, ComebackAnswer.Yes)).Outcome);
        Assert.Equal(SaveOutcome.Refused, (await SayAsync(shop, back, back, ComebackAnswer.Yes)).Outcome);
        Assert.Equal(SaveOutcome.Refused, (await SayAsync(shop, back, null, ComebackAnswer.Yes)).Outcome);
        Assert.Equal(ComebackAnswer.Undecided, (await shop.ReadAsync(back)).ComebackAnswer);
    }

    [Fact]
    public async Task The_demo_shops_comebacks_are_answered_and_open_orders_are_told_by_their_day()
    {
        await using var shop = await TestShop.OpenAsync();
        await shop.Shop.LoadDemoAsync();
        var cases = await Store(shop).CasesAsync(TimeZoneInfo.Utc, ComebackWindow.Usual);
        Assert.Equal([(1007, 1002), (1010, 1004)], cases.Where(c => c.Answer == ComebackAnswer.Yes).Select(c => (c.Number, cases.Single(e => e.OrderId == c.ComebackOf).Number)));
        var open = await shop.Orders.OpenOrdersAsync();
        Assert.Equal(open.Select(o => o.Number).Order(), (await Store(shop).OpenOrdersAsync(TimeZoneInfo.Utc)).Select(o => o.Number));
    }

    [Fact]
    public async Task An_older_shop_keeps_its_comebacks_and_goes_by_the_usual_window()
    {
        await using var shop = TestShop.Closed();
        Directory.CreateDirectory(shop.Folder);
        await using var db = shop.Context();
        var before = db.Database.GetMigrations().TakeWhile(m => !m.EndsWith("_Comebacks", StringComparison.Ordinal)).Last();
        await db.GetService<IMigrator>().MigrateAsync(before);
        shop.Run("""
            INSERT INTO Settings (Id, Name, Address, Phone, Currency, LabourPerHourMinor, UnitSystem, UnitsJson, Paper, AltitudeMetres, AltitudeByDensity, ToolsJson, LearnFromCases, IsDemo)
            VALUES (1, 'Ann', '', '', 'USD', 0, 'us', '{}', 'letter', 0, 0, '[]', 1, 0);
            INSERT INTO Customers (Id, Name, Phone, Email) VALUES ('C', 'Ida', '', '');
            INSERT INTO Vehicles (Id, CustomerId, Plate, Vin, Description, EngineTitle) VALUES ('V', 'C', '', '', '', '');
            INSERT INTO Orders (Id, Number, Stage, CustomerId, VehicleId, ConcernText, ConcernCodes, ConcernLamp, ConcernWhen, OdometerUnit, Technician, AuthorisedMinutes, CreatedAt, ComebackOf, WrittenConcern, WrittenCause, WrittenCorrection)
            VALUES ('A', 1001, 'HandedOver', 'C', 'V', '', '', 'Off', '', 'km', '', 0, '2026-01-01 00:00:00', NULL, '', '', ''),
                   ('B', 1002, 'WrittenUp', 'C', 'V', '', '', 'Off', '', 'km', '', 0, '2026-02-01 00:00:00', 'A', '', '', '');
            """);
        await db.Database.MigrateAsync();
        Assert.Equal("1001 Undecided,1002 Yes", shop.Text("SELECT group_concat(Number || ' ' || ComebackAnswer) FROM Orders"));
        Assert.Equal("365 20000", shop.Text("SELECT ComebackDays || ' ' || ComebackKilometres FROM Settings"));
    }
}
