using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Storage.Json;
using ShopDiag.Storage.Orders;

namespace ShopDiag.Storage.Tests.Orders;

public sealed class ProgressTests
{
    [Fact]
    public async Task An_order_moves_on_and_says_how_it_got_there()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await shop.OpenOrderAsync();
        shop.Clock.Advance(TimeSpan.FromHours(1));
        Assert.Equal(new SaveResult(SaveOutcome.Saved, "InDiagnosis"), await MoveAsync(shop, order, OrderStage.InDiagnosis, "Lena"));
        shop.Clock.Advance(TimeSpan.FromHours(1));
        await MoveAsync(shop, order, OrderStage.AwaitingApproval, "Lena");
        var kept = await shop.ReadAsync(order);
        var start = new DateTime(2026, 3, 2, 8, 0, 0, DateTimeKind.Utc);
        Assert.Equal(
            [new(OrderStage.WrittenUp, start, "Rosa", ""), new(OrderStage.InDiagnosis, start.AddHours(1), "Lena", ""), new(OrderStage.AwaitingApproval, start.AddHours(2), "Lena", "")],
            kept.Moves);
        Assert.All(kept.Moves, m => Assert.Equal(DateTimeKind.Utc, m.At.Kind));
        Assert.Equal((OrderStage.AwaitingApproval, start), (kept.Stage, kept.CreatedAt));
    }

    [Fact]
    public async Task A_step_back_needs_a_reason()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await shop.OpenOrderAsync();
        await MoveAsync(shop, order, OrderStage.Ready, "Lena");
        var refused = await MoveAsync(shop, order, OrderStage.InDiagnosis, "Lena", "  ");
        Assert.Equal((SaveOutcome.Refused, "Ready"), (refused.Outcome, refused.Current));
        Assert.Equal(SaveOutcome.Saved, (await MoveAsync(shop, order, OrderStage.InDiagnosis, "Lena", "Shakes again on the road.")).Outcome);
        Assert.Equal("Shakes again on the road.", (await shop.ReadAsync(order)).Moves[^1].Reason);
    }

    [Fact]
    public async Task Moving_to_where_it_stands_adds_no_move()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await shop.OpenOrderAsync();
        Assert.Equal(SaveOutcome.AlreadySaved, (await MoveAsync(shop, order, OrderStage.WrittenUp, "Lena")).Outcome);
        Assert.Single((await shop.ReadAsync(order)).Moves);
    }

    [Fact]
    public async Task The_newest_finding_counts_and_the_earlier_ones_stay_on_record()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await shop.OpenOrderAsync();
        var first = Finding("coil-failed", 0.91);
        var second = Finding("plug-worn", 0.62) with { UnprovenReason = "Customer insists." };
        Assert.Equal(new SaveResult(SaveOutcome.Saved, "coil-failed"), await shop.Orders.SetFindingAsync(order.Id, first, Guid.NewGuid()));
        await shop.Orders.SetFindingAsync(order.Id, null, Guid.NewGuid());
        Assert.Null((await shop.ReadAsync(order)).Finding);
        var command = Guid.NewGuid();
        await shop.Orders.SetFindingAsync(order.Id, second, command);
        Assert.Equal(SaveOutcome.AlreadySaved, (await shop.Orders.SetFindingAsync(order.Id, second, command)).Outcome);
        Assert.Equal(StorageJson.Write(second), StorageJson.Write((await shop.ReadAsync(order)).Finding));
        Assert.Equal(3, shop.Scalar("SELECT count(*) FROM Findings"));
    }

    [Fact]
    public async Task A_finding_in_local_time_is_a_mistake_of_the_program() =>
        await Assert.ThrowsAsync<ArgumentException>(async () =>
        {
            await using var shop = await TestShop.OpenAsync();
            await shop.Orders.SetFindingAsync(Guid.NewGuid(), Finding("coil-failed", 1) with { At = new DateTime(2026, 3, 2) }, Guid.NewGuid());
        });

    [Fact]
    public async Task Nothing_moves_on_an_unknown_order()
    {
        await using var shop = await TestShop.OpenAsync();
        var unknown = (await shop.OpenOrderAsync()) with { Id = Guid.NewGuid() };
        Assert.Equal(SaveOutcome.Refused, (await MoveAsync(shop, unknown, OrderStage.Ready, "Lena")).Outcome);
        Assert.Equal(SaveOutcome.Refused, (await shop.Orders.SetFindingAsync(unknown.Id, null, Guid.NewGuid())).Outcome);
        Assert.Equal(SaveOutcome.Refused, (await shop.Orders.SetEngineAsync(unknown.Id, TestShop.Four, "", Guid.NewGuid(), "Lena")).Outcome);
        Assert.Equal(SaveOutcome.Refused, (await shop.Orders.UseVehicleAsync(unknown.Id, Guid.NewGuid(), Guid.NewGuid())).Outcome);
        Assert.Null(await shop.Orders.GetAsync(unknown.Id));
        Assert.Null(await shop.Orders.GetByNumberAsync(4711));
    }

    private static Task<SaveResult> MoveAsync(TestShop shop, RepairOrder order, OrderStage stage, string by, string reason = "") =>
        shop.Orders.MoveAsync(order.Id, stage, by, reason, Guid.NewGuid());

    private static OrderFinding Finding(string cause, double probability) => new()
    {
        Conclusion = new(
            [new ProvenCause(cause, Place.Pair(4, 1)), new ProvenCause(cause, Place.Bank(2))],
            [new ProofReading("coil-feed", Place.Cylinder(4), "good", "12.4 V – “good”.")],
            new Repair("Replace it.", [new RepairPart("Ignition coil", 1, Place.Engine, "Maker", true)], 25.5, ["power-balance"])),
        Probability = probability,
        At = new DateTime(2026, 3, 2, 9, 0, 0, DateTimeKind.Utc),
        By = "Lena",
    };
}
