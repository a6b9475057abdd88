using System.Collections.Immutable;
using ShopDiag.Estimates;
using ShopDiag.Reports;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Shop;
using ShopDiag.Web.Papers;
using ShopDiag.Web.Tests.Support;

namespace ShopDiag.Web.Tests.Papers;

/// <summary>What of an order comes on its invoice: work and parts as done.</summary>
public sealed class InvoiceLinesTests : IAsyncLifetime
{
    private TestShop _shop = null!;

    public async ValueTask InitializeAsync() => _shop = await TestShop.OpenAsync();

    public ValueTask DisposeAsync() => _shop.DisposeAsync();

    [Fact]
    public async Task There_is_none_while_nothing_is_on_the_order_or_nothing_is_approved()
    {
        var order = await _shop.NewOrderAsync();
        Assert.Null(Invoice(order));
        await _shop.Estimates.AddLineAsync(order.Id, Guid.NewGuid(), LineKind.Fee, Guid.NewGuid(), "Ann");
        Assert.Null(Invoice(await ReadAsync(order)));
        // Went on without an answer, for a reason that is on record: what was done is billed.
        await _shop.Orders.MoveAsync(order.Id, OrderStage.InRepair, "Ann", "Asked for at the counter.", Guid.NewGuid());
        Assert.NotNull(Invoice(await ReadAsync(order)));
    }

    [Fact]
    public async Task A_customer_who_wanted_nothing_pays_for_nothing()
    {
        var order = await _shop.NewOrderAsync();
        var line = Guid.NewGuid();
        await _shop.Estimates.AddLineAsync(order.Id, line, LineKind.Fee, Guid.NewGuid(), "Ann");
        await _shop.Estimates.SetLineAsync(order.Id, line, LineField.Price, "10", null, Guid.NewGuid(), "Ann");
        var no = new Approval { Id = Guid.NewGuid(), At = default, By = "Ann", Person = "Cy", Way = ApprovalWay.Phone, Contact = "555", Decisions = [new(line, "", 1000, false)] };
        Assert.Equal(SaveOutcome.Saved, (await _shop.Estimates.ApproveAsync(order.Id, no)).Outcome);
        await _shop.Orders.MoveAsync(order.Id, OrderStage.HandedOver, "Ann", "Taken away.", Guid.NewGuid());
        Assert.Null(Invoice(await ReadAsync(order)));
    }

    [Fact]
    public async Task A_part_that_was_sent_back_is_not_billed()
    {
        var order = await _shop.NewOrderAsync();
        var coils = await _shop.ApprovedPartAsync(order.Id, "Ignition coil", 3);
        await _shop.ApprovedPartAsync(order.Id, "Gasket");
        await _shop.Parts.MoveAsync(coils.Id, PartState.Fitted, 1, Guid.NewGuid(), "Ann");
        await ReturnAsync(order, coils.LineId, 2);
        Assert.Equal([("Ignition coil", "1", "$10.00"), ("Gasket", "1", "$10.00")], Lines(await ReadAsync(order)).Select(l => (l.Text, l.Quantity, l.Amount)));
        Assert.Contains("20.00", Bill(await ReadAsync(order)).Totals.Total, StringComparison.Ordinal);

        await ReturnAsync(order, coils.LineId, 1);
        Assert.Equal(["Gasket"], Lines(await ReadAsync(order)).Select(l => l.Text));
    }

    [Fact]
    public async Task A_part_that_is_not_on_the_car_is_named_once_the_car_is_repaired()
    {
        var order = await _shop.NewOrderAsync();
        var coils = await _shop.ApprovedPartAsync(order.Id, "Ignition coil", 3);
        await _shop.Parts.MoveAsync(coils.Id, PartState.Fitted, 1, Guid.NewGuid(), "Ann");
        Assert.Equal([""], Lines(await ReadAsync(order)).Select(l => l.Note));
        await _shop.Orders.MoveAsync(order.Id, OrderStage.RepairCheck, "Ann", "Two follow.", Guid.NewGuid());
        Assert.Equal(["2 of them not fitted"], Lines(await ReadAsync(order)).Select(l => l.Note));
    }

    [Fact]
    public async Task What_was_noted_with_the_repair_check_is_said_and_what_was_not_is_left_out()
    {
        var order = await _shop.NewOrderAsync();
        Assert.Empty(RepairCheckOnPapers.Notes(order));
        await _shop.SetAsync(order.Id, OrderField.CodesCleared, "Yes");
        await _shop.SetAsync(order.Id, OrderField.MonitorsNoted, "misfire done, catalyst not yet");
        Assert.Equal(["Codes cleared after the repair.", "Monitors after the road check: misfire done, catalyst not yet"], RepairCheckOnPapers.Notes(await ReadAsync(order)).AsEnumerable());
    }

    private static PaperMaker Maker(TestShop shop) => new(Diagnosis.Knowledge.Shipped, shop.Time, shop.Logo);

    private byte[]? Invoice(RepairOrder order) => Maker(_shop).Invoice(order, new ShopSettings(), PaperSize.A4);

    private Reports.Models.Invoice Bill(RepairOrder order) => Maker(_shop).Bill(order, new ShopSettings { Currency = "USD" });

    private ImmutableArray<Reports.Models.MoneyLine> Lines(RepairOrder order) => Bill(order).Lines;

    private async Task<RepairOrder> ReadAsync(RepairOrder order) => (await _shop.Orders.GetAsync(order.Id))!;

    private async Task ReturnAsync(RepairOrder order, Guid line, int pieces)
    {
        var part = (await ReadAsync(order)).Parts.Where(p => p.LineId == line && p.State != PartState.Returned).MaxBy(p => p.Quantity)!;
        Assert.Equal(SaveOutcome.Saved, (await _shop.Parts.MoveAsync(part.Id, PartState.Returned, pieces, Guid.NewGuid(), "Ann")).Outcome);
    }
}
