using Microsoft.Extensions.DependencyInjection;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Estimates;
using ShopDiag.Storage.Comebacks;
using ShopDiag.Storage.Estimates;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Shop;

namespace ShopDiag.Storage.Tests.Estimates;

public sealed class EstimateStoreTests
{
    private static readonly PriceEntry Coil = new() { Kind = LineKind.Part, Name = "Ignition coil", PriceMinor = 6400, CoreMinor = 500, Vendor = "Harbour Parts" };
    private static readonly PriceEntry Plug = new() { Kind = LineKind.Part, Name = "Spark plug", PriceMinor = 1250 };

    private static EstimateStore Store(TestShop shop) => shop.Services.GetRequiredService<EstimateStore>();

    private static PartStore Parts(TestShop shop) => shop.Services.GetRequiredService<PartStore>();

    /// <summary>A shop with prices and an order whose coil of cylinder 3 has failed.</summary>
    private static async Task<(TestShop Shop, RepairOrder Order)> FoundAsync(bool proven = true)
    {
        var shop = await TestShop.OpenAsync();
        await shop.Shop.SaveAsync(new ShopSettings { LabourPerHourMinor = 12000, Pricing = new() { PartsTaxBasisPoints = 825 } });
        await shop.Services.GetRequiredService<PriceStore>().PutAsync([Coil, Plug]);
        var order = await shop.OpenOrderAsync();
        await shop.Orders.SetEngineAsync(order.Id, TestShop.Four, "I4", Guid.NewGuid(), "Rosa");
        await FindAsync(shop, order, "coil-failed", proven);
        return (shop, await shop.ReadAsync(order));
    }

    private static Task<SaveResult> FindAsync(TestShop shop, RepairOrder order, string cause, bool proven = true)
    {
        var engine = Engine.Create(TestShop.Four).Value;
        var at = Place.Cylinder(3);
        var finding = new OrderFinding
        {
            Conclusion = new([new(cause, at)], [new("coil-swap", at, "follows", "It moved with the coil.")], RepairPlan.For(engine, [(Knowledge.Shipped.Cause(cause)!, at)])),
            Probability = 0.97,
            UnprovenReason = proven ? null : "The customer is in a hurry.",
            At = shop.Clock.GetUtcNow().UtcDateTime,
            By = "Lena",
        };
        return shop.Orders.SetFindingAsync(order.Id, finding, Guid.NewGuid());
    }

    private static Approval Said(RepairOrder order, Func<EstimateLine, bool> yes, ApprovalWay way = ApprovalWay.Phone) => new()
    {
        Id = Guid.NewGuid(),
        At = default,
        By = "Rosa",
        Person = "Ida Holm",
        Way = way,
        Contact = way == ApprovalWay.InPerson ? "" : "555 0134",
        Decisions = [.. order.Estimate.Where(l => l.Counts).Select(l => new LineDecision(l.Id, l.Text, LineAmounts.Of(l).Total, yes(l)))],
    };

    private static async Task<RepairOrder> ApprovedAsync(TestShop shop, RepairOrder order)
    {
        Assert.Equal(SaveOutcome.Saved, (await Store(shop).ApproveAsync(order.Id, Said(order, _ => true))).Outcome);
        return await shop.ReadAsync(order);
    }

    [Fact]
    public async Task A_finding_brings_its_lines_with_the_shops_prices()
    {
        var (shop, order) = await FoundAsync();
        await using var _ = shop;
        Assert.Equal([("Ignition coil", 6400L), ("Spark plug", 1250L), ("Labour: ignition coil failed, cylinder 3", 12000L)], order.Estimate.Select(l => (l.Text, l.PriceMinor!.Value)));
        Assert.Equal("Harbour Parts", order.Estimate[0].Vendor);
        // Coil 64.00 and deposit 5.00 with 8.25 % (5.69), plug 12.50 with 1.03, a third of an hour of labour 39.96.
        Assert.Equal(7469 + 1353 + 3996, EstimateTotals.Of(order.Estimate).Total);
    }

    [Fact]
    public async Task A_changed_line_stays_as_it_was_entered_when_the_finding_changes()
    {
        var (shop, order) = await FoundAsync();
        await using var _ = shop;
        var coil = order.Estimate[0].Id;
        Assert.Equal(new SaveResult(SaveOutcome.Saved, "71.90"), await Store(shop).SetLineAsync(order.Id, coil, LineField.Price, " 71.9 ", "64.00", Guid.NewGuid(), "Rosa"));
        await FindAsync(shop, order, "injector-clogged");
        var lines = (await shop.ReadAsync(order)).Estimate;
        Assert.Equal(7190, lines.Single(l => l.Id == coil).PriceMinor);
        Assert.DoesNotContain(lines, l => l.Text == "Spark plug");
        Assert.Contains(lines, l => l.Cause == "injector-clogged");
    }

    [Theory]
    [InlineData(LineField.Price, "12,50")]
    [InlineData(LineField.Quantity, "1.5")]
    [InlineData(LineField.Discount, "101")]
    [InlineData(LineField.Tax, "8.255")]
    [InlineData(LineField.Text, "  ")]
    public async Task What_cannot_be_is_refused_and_the_line_stays(LineField field, string typed)
    {
        var (shop, order) = await FoundAsync();
        await using var _ = shop;
        var before = LineFields.Show(order.Estimate[0], field, "USD");
        var refused = await Store(shop).SetLineAsync(order.Id, order.Estimate[0].Id, field, typed, null, Guid.NewGuid(), "Rosa");
        Assert.Equal((SaveOutcome.Refused, before), (refused.Outcome, refused.Current));
        Assert.NotEmpty(refused.Message);
        Assert.Equal(order.Estimate.AsEnumerable(), (await shop.ReadAsync(order)).Estimate);
    }

    [Fact]
    public async Task Two_tablets_on_one_field_are_told_of_each_other_and_a_repeated_save_does_nothing()
    {
        var (shop, order) = await FoundAsync();
        await using var _ = shop;
        var (line, command) = (order.Estimate[0].Id, Guid.NewGuid());
        await Store(shop).SetLineAsync(order.Id, line, LineField.Vendor, "North Supply", "Harbour Parts", command, "Rosa");
        Assert.Equal(SaveOutcome.AlreadySaved, (await Store(shop).SetLineAsync(order.Id, line, LineField.Vendor, "North Supply", "Harbour Parts", command, "Rosa")).Outcome);
        var other = await Store(shop).SetLineAsync(order.Id, line, LineField.Vendor, "South Supply", "Harbour Parts", Guid.NewGuid(), "Lena");
        Assert.Equal((SaveOutcome.Conflict, "North Supply"), (other.Outcome, other.Current));
    }

    [Fact]
    public async Task A_line_taken_off_comes_back_as_it_was()
    {
        var (shop, order) = await FoundAsync();
        await using var _ = shop;
        var plug = order.Estimate[1];
        await Store(shop).SetRemovedAsync(order.Id, plug.Id, true, Guid.NewGuid(), "Rosa");
        Assert.False((await shop.ReadAsync(order)).Estimate[1].Counts);
        await Store(shop).SetRemovedAsync(order.Id, plug.Id, false, Guid.NewGuid(), "Rosa");
        Assert.Equal(plug, (await shop.ReadAsync(order)).Estimate[1]);
    }

    [Fact]
    public async Task Parts_of_an_unproven_cause_wait_for_a_reason_that_stays_on_record()
    {
        var (shop, order) = await FoundAsync(proven: false);
        await using var _ = shop;
        Assert.All(order.Estimate.Where(l => l.Kind == LineKind.Part), l => Assert.True(l.Held));
        Assert.Equal(SaveOutcome.Refused, (await Store(shop).GoAheadAsync(order.Id, " ", Guid.NewGuid(), "Rosa")).Outcome);
        await Store(shop).GoAheadAsync(order.Id, "The customer pays for a try", Guid.NewGuid(), "Rosa");
        var line = (await shop.ReadAsync(order)).Estimate[0];
        Assert.Equal(new GoAhead("The customer pays for a try", "Rosa", shop.Clock.GetUtcNow().UtcDateTime), line.GoAhead);
        // Proof found afterwards makes the remark needless but takes nothing away.
        await FindAsync(shop, order, "coil-failed");
        Assert.False((await shop.ReadAsync(order)).Estimate[0].Unproven);
    }

    [Fact]
    public async Task Approved_parts_are_wanted_and_the_others_are_not()
    {
        var (shop, order) = await FoundAsync();
        await using var _ = shop;
        await Store(shop).ApproveAsync(order.Id, Said(order, l => l.Text != "Spark plug"));
        var read = await shop.ReadAsync(order);
        Assert.Equal([("Ignition coil", 1, PartState.Wanted, 500L)], read.Parts.Select(p => (p.Text, p.Quantity, p.State, p.CoreMinor)));
        Assert.Equal(("Ida Holm", "555 0134"), (read.Approvals[0].Person, read.Approvals[0].Contact));
        Assert.Equal(shop.Clock.GetUtcNow().UtcDateTime, read.Approvals[0].At);
        // No to the coil takes back what nothing has been done about.
        await Store(shop).ApproveAsync(order.Id, Said(read, _ => false));
        Assert.Empty((await shop.ReadAsync(order)).Parts);
    }

    [Fact]
    public async Task A_part_already_ordered_stays_when_the_customer_says_no_after_all()
    {
        var (shop, order) = await FoundAsync();
        await using var _ = shop;
        var read = await ApprovedAsync(shop, order);
        await Parts(shop).MoveAsync(read.Parts[0].Id, PartState.Ordered, 1, Guid.NewGuid(), "Rosa");
        await Store(shop).ApproveAsync(order.Id, Said(read, _ => false));
        Assert.Equal([PartState.Ordered], (await shop.ReadAsync(order)).Parts.Select(p => p.State));
    }

    [Fact]
    public async Task What_was_approved_must_be_what_the_customer_was_told()
    {
        var (shop, order) = await FoundAsync();
        await using var _ = shop;
        var said = Said(order, l => true);
        await Store(shop).SetLineAsync(order.Id, order.Estimate[0].Id, LineField.Price, "99", null, Guid.NewGuid(), "Lena");
        Assert.Equal(SaveOutcome.Conflict, (await Store(shop).ApproveAsync(order.Id, said)).Outcome);
        Assert.Empty((await shop.ReadAsync(order)).Approvals);
    }

    [Fact]
    public async Task An_answer_needs_a_name_a_number_or_a_signature()
    {
        var (shop, order) = await FoundAsync();
        await using var _ = shop;
        Approval[] faulty =
        [
            Said(order, _ => true) with { Person = " " },
            Said(order, _ => true) with { Contact = "" },
            Said(order, _ => true, ApprovalWay.InPerson),
            Said(order, _ => true, ApprovalWay.InPerson) with { Signature = new([[0.1, 0.1]], 4) },
            Said(order, _ => true) with { Decisions = [] },
        ];
        foreach (var approval in faulty)
        {
            var refused = await Store(shop).ApproveAsync(order.Id, approval);
            Assert.Equal(SaveOutcome.Refused, refused.Outcome);
            Assert.NotEmpty(refused.Message);
        }

        var signed = Said(order, _ => true, ApprovalWay.InPerson) with { Signature = new([[.. Enumerable.Range(0, 40).Select(i => i / 40.0)]], 4) };
        Assert.Equal(SaveOutcome.Saved, (await Store(shop).ApproveAsync(order.Id, signed)).Outcome);
        Assert.Equal(signed.Signature!.Strokes[0].AsEnumerable(), (await shop.ReadAsync(order)).Approvals[0].Signature!.Strokes[0]);
    }

    [Fact]
    public async Task A_line_without_a_price_cannot_be_approved()
    {
        var (shop, order) = await FoundAsync();
        await using var _ = shop;
        await Store(shop).SetLineAsync(order.Id, order.Estimate[0].Id, LineField.Price, "", null, Guid.NewGuid(), "Rosa");
        var refused = await Store(shop).ApproveAsync(order.Id, Said(await shop.ReadAsync(order), l => true));
        Assert.Equal(SaveOutcome.Refused, refused.Outcome);
        Assert.Contains("Ignition coil", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Work_goes_on_with_a_yes_or_with_a_reason_on_record()
    {
        var (shop, order) = await FoundAsync();
        await using var _ = shop;
        Task<SaveResult> MoveAsync(OrderStage stage, string reason = "") => shop.Orders.MoveAsync(order.Id, stage, "Rosa", reason, Guid.NewGuid());
        Assert.Contains("approved", (await MoveAsync(OrderStage.AwaitingParts)).Message, StringComparison.Ordinal);
        order = await ApprovedAsync(shop, order);
        Assert.Equal(SaveOutcome.Saved, (await MoveAsync(OrderStage.AwaitingParts)).Outcome);
        Assert.Contains("parts", (await MoveAsync(OrderStage.InRepair)).Message, StringComparison.Ordinal);
        foreach (var part in order.Parts)
        {
            await Parts(shop).MoveAsync(part.Id, PartState.Received, part.Quantity, Guid.NewGuid(), "Rosa");
        }

        await Store(shop).SetLineAsync(order.Id, order.Estimate[0].Id, LineField.Price, "90", null, Guid.NewGuid(), "Rosa");
        Assert.Contains("more than was approved", (await MoveAsync(OrderStage.InRepair)).Message, StringComparison.Ordinal);
        Assert.Equal(SaveOutcome.Saved, (await MoveAsync(OrderStage.InRepair, "She said yes by message; it comes in writing")).Outcome);
        Assert.Equal("She said yes by message; it comes in writing", (await shop.ReadAsync(order)).Moves[^1].Reason);
    }

    [Fact]
    public async Task A_car_is_not_handed_over_as_fixed_without_a_reading_or_a_reason()
    {
        var (shop, order) = await FoundAsync();
        await using var _ = shop;
        Assert.Contains("nothing proves it", (await shop.Orders.MoveAsync(order.Id, OrderStage.Ready, "Rosa", "", Guid.NewGuid())).Message, StringComparison.Ordinal);
        Task<SaveResult> ReadyAsync(string reason = "") => shop.Orders.MoveAsync(order.Id, OrderStage.Ready, "Rosa", reason, Guid.NewGuid());
        async Task<bool?> IsCheckedAsync() => (await shop.Services.GetRequiredService<ComebackStore>().CasesAsync(TimeZoneInfo.Utc, new())).Single(c => c.OrderId == order.Id).RepairChecked;
        order = await ApprovedAsync(shop, order);
        foreach (var part in order.Parts)
        {
            await Parts(shop).MoveAsync(part.Id, PartState.Fitted, part.Quantity, Guid.NewGuid(), "Rosa");
        }

        // A compression alone says nothing of a cylinder that fires or not.
        var after = TestShop.Compression(3, 1200);
        await shop.Orders.AddReadingAsync(order.Id, after with { Reading = after.Reading with { Stage = Stage.After } });
        Assert.Contains("no balance or misfire count after the repair", (await ReadyAsync()).Message, StringComparison.Ordinal);
        Assert.False(await IsCheckedAsync());
        // Counts that are no better are a check, and no proof.
        await CountAsync(shop, order, 3, 250);
        Assert.Contains("Still not right after the repair: Misfire counts, cylinder 3", (await ReadyAsync()).Message, StringComparison.Ordinal);
        Assert.True(await IsCheckedAsync());
        await CountAsync(shop, order, 3, 0);
        Assert.True(await IsCheckedAsync());
        Assert.Equal(SaveOutcome.Saved, (await ReadyAsync()).Outcome);
    }

    [Fact]
    public async Task More_money_than_approved_is_asked_for_again_when_the_car_comes_from_the_lift_and_when_it_leaves()
    {
        var (shop, order) = await FoundAsync();
        await using var _ = shop;
        order = await ApprovedAsync(shop, order);
        foreach (var part in order.Parts)
        {
            await Parts(shop).MoveAsync(part.Id, PartState.Fitted, part.Quantity, Guid.NewGuid(), "Rosa");
        }

        Task<SaveResult> MoveAsync(OrderStage stage, string reason = "") => shop.Orders.MoveAsync(order.Id, stage, "Rosa", reason, Guid.NewGuid());
        Assert.Equal(SaveOutcome.Saved, (await MoveAsync(OrderStage.InRepair)).Outcome);
        await Store(shop).SetLineAsync(order.Id, order.Estimate[0].Id, LineField.Price, "900", null, Guid.NewGuid(), "Rosa");
        Assert.Contains("more than was approved", (await MoveAsync(OrderStage.RepairCheck)).Message, StringComparison.Ordinal);
        await MoveAsync(OrderStage.RepairCheck, "The second coil was cracked too.");
        await CountAsync(shop, order, 3, 0);
        Assert.Equal(SaveOutcome.Saved, (await MoveAsync(OrderStage.Ready)).Outcome);
        Assert.Contains("more than was approved", (await MoveAsync(OrderStage.HandedOver)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Work_that_nobody_was_asked_about_does_not_slip_past_the_question_and_who_wanted_nothing_gets_his_car()
    {
        var (shop, order) = await FoundAsync();
        await using var _ = shop;
        Assert.Contains("Nobody has approved", (await shop.Orders.MoveAsync(order.Id, OrderStage.RepairCheck, "Rosa", "", Guid.NewGuid())).Message, StringComparison.Ordinal);
        await Store(shop).ApproveAsync(order.Id, Said(order, l => false));
        Assert.Equal(SaveOutcome.Saved, (await shop.Orders.MoveAsync(order.Id, OrderStage.RepairCheck, "Rosa", "", Guid.NewGuid())).Outcome);
    }

    private static async Task CountAsync(TestShop shop, RepairOrder order, int cylinder, int misfires)
    {
        var supersedes = (await shop.ReadAsync(order)).Readings.LastOrDefault(r => r.Reading.Test == "misfire-counts" && r.Reading.Stage == Stage.After)?.Id;
        var value = new ReadingValue([KeyValuePair.Create("misfires", FieldValue.Of(misfires)), KeyValuePair.Create("revolutions", FieldValue.Of(1000))]);
        var reading = new Reading { Test = "misfire-counts", At = Place.Cylinder(cylinder), Value = value, Stage = Stage.After, By = "Rosa" };
        await shop.Orders.AddReadingAsync(order.Id, new() { Id = Guid.NewGuid(), SupersedesId = supersedes, Reading = reading });
    }

    [Fact]
    public async Task Some_pieces_may_come_before_the_others()
    {
        var (shop, order) = await FoundAsync();
        await using var _ = shop;
        await Store(shop).SetLineAsync(order.Id, order.Estimate[1].Id, LineField.Quantity, "4", null, Guid.NewGuid(), "Rosa");
        var plugs = (await ApprovedAsync(shop, await shop.ReadAsync(order))).Parts.Single(p => p.Text == "Spark plug");
        await Parts(shop).MoveAsync(plugs.Id, PartState.Ordered, 4, Guid.NewGuid(), "Rosa");
        var command = Guid.NewGuid();
        await Parts(shop).MoveAsync(plugs.Id, PartState.Received, 3, command, "Rosa");
        await Parts(shop).MoveAsync(plugs.Id, PartState.Received, 3, command, "Rosa");
        var rows = (await shop.ReadAsync(order)).Parts.Where(p => p.Text == "Spark plug").ToList();
        Assert.Equal([(3, PartState.Received), (1, PartState.Ordered)], rows.Select(p => (p.Quantity, p.State)));
        Assert.Equal([PartState.Wanted, PartState.Ordered, PartState.Received], rows[0].Moves.Select(m => m.State));
        Assert.Equal([PartState.Wanted, PartState.Ordered], rows[1].Moves.Select(m => m.State));
        Assert.Equal(SaveOutcome.Refused, (await Parts(shop).MoveAsync(plugs.Id, PartState.Fitted, 9, Guid.NewGuid(), "Rosa")).Outcome);
    }

    [Fact]
    public async Task What_is_missing_stands_on_one_list_oldest_promise_first()
    {
        var (shop, order) = await FoundAsync();
        await using var _ = shop;
        await ApprovedAsync(shop, order);
        var other = await shop.OpenOrderAsync();
        await shop.Orders.SetEngineAsync(other.Id, TestShop.Four, "I4", Guid.NewGuid(), "Rosa");
        await FindAsync(shop, other, "coil-failed");
        await shop.SetAsync(other, OrderField.PromisedAt, "2026-03-03T15:00:00Z");
        await ApprovedAsync(shop, await shop.ReadAsync(other));
        Assert.Equal([other.Number, other.Number, order.Number, order.Number], (await Parts(shop).MissingAsync()).Select(p => p.OrderNumber));
        var first = (await Parts(shop).MissingAsync())[0].Part;
        await Parts(shop).MoveAsync(first.Id, PartState.Received, 1, Guid.NewGuid(), "Rosa");
        Assert.Equal([first.Id], (await Parts(shop).ReceivedAsync()).Select(p => p.Part.Id));
        Assert.Equal(3, (await Parts(shop).MissingAsync()).Length);
    }

    [Fact]
    public async Task Fields_of_a_part_save_themselves()
    {
        var (shop, order) = await FoundAsync();
        await using var _ = shop;
        var part = (await ApprovedAsync(shop, order)).Parts[0];
        await Parts(shop).SetFieldAsync(part.Id, PartField.ExpectedOn, "2026-03-05", "", Guid.NewGuid(), "Rosa");
        Assert.Equal(SaveOutcome.Refused, (await Parts(shop).SetFieldAsync(part.Id, PartField.ExpectedOn, "Friday", null, Guid.NewGuid(), "Rosa")).Outcome);
        Assert.Equal(SaveOutcome.Conflict, (await Parts(shop).SetFieldAsync(part.Id, PartField.ExpectedOn, "2026-03-06", "", Guid.NewGuid(), "Lena")).Outcome);
        await Parts(shop).SetCoreBackAsync(part.Id, true, Guid.NewGuid(), "Rosa");
        var kept = (await shop.ReadAsync(order)).Parts[0];
        Assert.Equal((new DateOnly(2026, 3, 5), true), (kept.ExpectedOn, kept.CoreBack));
    }

    [Fact]
    public async Task The_list_of_prices_takes_entries_again_and_gives_them_up()
    {
        await using var shop = await TestShop.OpenAsync();
        var prices = shop.Services.GetRequiredService<PriceStore>();
        Assert.Equal(2, await prices.PutAsync([Coil, Plug]));
        Assert.Equal(0, await prices.PutAsync([Coil with { Name = "IGNITION  coil", PriceMinor = 7000 }]));
        Assert.Equal(7000, (await prices.GetAsync()).Find(LineKind.Part, "Ignition coil", "")!.PriceMinor);
        Assert.True(await prices.RemoveAsync(Coil.Key));
        Assert.Null((await prices.GetAsync()).Find(LineKind.Part, "Ignition coil", ""));
    }

    [Fact]
    public async Task The_write_up_keeps_a_persons_words()
    {
        var (shop, order) = await FoundAsync();
        await using var _ = shop;
        await shop.SetAsync(order, OrderField.WrittenCause, "Coil of cylinder 3 open.\nFound by swap.");
        await shop.SetAsync(order, OrderField.MinutesSpent, "42");
        var kept = await shop.ReadAsync(order);
        Assert.Equal(("Coil of cylinder 3 open.\nFound by swap.", 42), (kept.WrittenCause, kept.MinutesSpent));
    }
}
