using System.Collections.Immutable;
using ShopDiag.Estimates;
using ShopDiag.Storage.Estimates;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Rows;
using ShopDiag.Storage.Writing;

namespace ShopDiag.Storage.Shop;

/// <summary>What the demo shop's repairs cost, what their customers said to it, and where the parts are: as far as each order has come.</summary>
internal sealed class DemoEstimates(ShopSettings shop, PriceList prices)
{
    // Between the yes and the call to the vendor, and between the parts on the counter and the car on the lift.
    private static readonly TimeSpan ToOrder = TimeSpan.FromMinutes(15);
    private static readonly TimeSpan ToLift = TimeSpan.FromMinutes(30);

    /// <summary>Adds what an order with a finding has of it.</summary>
    public void Add(WriteScope write, RepairOrder order, SeedOrder seed)
    {
        if (order.Finding is not { } finding)
        {
            return;
        }

        var lines = EstimateLines.Draft(order, finding, shop, prices).Select(l => Piece(l, seed)).ToImmutableArray();
        if (order.Moves.FirstOrDefault(m => m.Stage > OrderStage.AwaitingApproval) is not { } yes)
        {
            Put(write, order.Id, lines);
            return;
        }

        lines = EstimateDraft.WithSupplies([.. lines.Select(l => l.Held ? l with { GoAhead = new(finding.UnprovenReason!, finding.By, finding.At) } : l)], shop.Pricing);
        Put(write, order.Id, lines);
        var approval = Approved(order, lines, yes);
        write.Db.Approvals.Add(ApprovalRow.Of(approval, order.Id, 1));
        write.Db.Parts.AddRange(PartsFromLines.Of(lines, ApprovalState.Of(lines, [approval]), []).Wanted.Select((w, i) => Part(order, seed, w.Line, w.Quantity, i + 1, yes)));
    }

    private static EstimateLine Piece(EstimateLine line, SeedOrder seed) =>
        line.Kind == LineKind.Part && seed.PartPieces.TryGetValue(line.Text, out var pieces) ? line with { Thousandths = pieces * 1000L, Edited = true } : line;

    private static void Put(WriteScope write, Guid order, ImmutableArray<EstimateLine> lines)
    {
        var row = new EstimateRow { OrderId = order };
        row.Put(lines, write.Now);
        write.Db.Estimates.Add(row);
    }

    private Approval Approved(RepairOrder order, ImmutableArray<EstimateLine> lines, StageMove yes) => new()
    {
        Id = LineKeys.Of(order.Id, "approval"),
        At = yes.At,
        By = yes.By,
        Person = order.Customer.Name,
        Way = ApprovalWay.Phone,
        Contact = order.Customer.Phone,
        Decisions = [.. lines.Where(l => l is { Counts: true, Choice: LineChoice.Needed, PriceMinor: not null }).Select(l => new LineDecision(l.Id, l.Text, LineAmounts.Of(l).Total, true))],
        Terms = shop.Pricing.TermsInForce,
    };

    private static PartRow Part(RepairOrder order, SeedOrder seed, EstimateLine line, int quantity, int sequence, StageMove yes)
    {
        var part = PartRow.Wanted(LineKeys.Of(line.Id, $"part {sequence}"), order.Id, sequence, line, quantity, yes.At, yes.By);
        if (seed.PartsNotOrdered.Contains(line.Text))
        {
            return part;
        }

        var ordered = yes.At;
        if (yes.Stage == OrderStage.AwaitingParts)
        {
            ordered += ToOrder;
            part.Move(PartState.Ordered, ordered, yes.By);
            part.ExpectedOn = seed.PartsExpectedInHours is { } hours ? DateOnly.FromDateTime(order.CreatedAt.AddHours(seed.Moves[0].HoursAgo + hours)) : null;
        }

        if (order.Moves.FirstOrDefault(m => m.Stage == OrderStage.InRepair) is { } lift)
        {
            part.Move(PartState.Received, lift.At - ToLift > ordered ? lift.At - ToLift : ordered, yes.By);
        }

        if (order.Moves.FirstOrDefault(m => m.Stage == OrderStage.RepairCheck) is { } done)
        {
            part.Move(PartState.Fitted, done.At, done.By);
        }

        part.CoreBack = line.CoreMinor > 0 && order.Stage == OrderStage.HandedOver;
        return part;
    }
}
