using System.Collections.Immutable;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Estimates;
using ShopDiag.Storage.People;

namespace ShopDiag.Storage.Orders;

/// <summary>When a step of an order asks for a reason, which then stays on record, and when it cannot be taken.</summary>
public static class StepRules
{
    private const string NobodyApproved = "Nobody has approved the work yet. Write down what the customer said under Estimate, or say why it goes on.";
    private const string MoreThanApproved = "The approved lines now come to more than was approved. Ask the customer again, or say why it goes on.";

    /// <summary>
    /// What is missing for a step, in plain words; null when nothing is. A step back; work or parts that nobody approved, or that cost more than was approved;
    /// parts not here, or not on the car; a car handed over as fixed without a repair check that is good; an order closed as made by mistake. Opening that one again
    /// where it stood asks nothing.
    /// </summary>
    /// <param name="order">The order.</param>
    /// <param name="to">Where it is to go.</param>
    /// <param name="check">What its readings after the repair come to; null while no engine is chosen.</param>
    public static string? AsksReason(RepairOrder order, OrderStage to, RepairCheck? check)
    {
        ArgumentNullException.ThrowIfNull(order);
        if (to == OrderStage.MadeByMistake)
        {
            return "Say in a few words how it came to be.";
        }

        if (order.Stage == OrderStage.MadeByMistake)
        {
            return to == StoodAt(order) ? null : "The order is closed as made by mistake and stood elsewhere before.";
        }

        return to < order.Stage ? "A step back needs a reason." : Missing(order, to, check);
    }

    /// <summary>Why a step cannot be taken at all, with what to do first; null when it can.</summary>
    public static string? Refuses(RepairOrder order, OrderStage to)
    {
        ArgumentNullException.ThrowIfNull(order);
        return to == OrderStage.MadeByMistake && Named(order, PartState.Ordered, PartState.Received, PartState.Fitted) is { Length: > 0 } parts
            ? $"Parts were got for this order: {parts}. Send them back under Parts first, or put them back to wanted."
            : null;
    }

    /// <summary>What somebody must be allowed who closes the order as made by mistake, or opens it again: once there is a finding or an answer of the customer on it, a figure changes.</summary>
    public static Permission NeedsForMistake(RepairOrder order)
    {
        ArgumentNullException.ThrowIfNull(order);
        return order.Finding is null && order.Approvals.IsEmpty && order.Stage != OrderStage.HandedOver ? Permission.WorkOnOrders : Permission.HandOver;
    }

    /// <summary>Where an order made by mistake stood before it was closed; where it stands for any other.</summary>
    public static OrderStage StoodAt(RepairOrder order)
    {
        ArgumentNullException.ThrowIfNull(order);
        return order.Stage == OrderStage.MadeByMistake
            ? order.Moves.LastOrDefault(m => m.Stage != OrderStage.MadeByMistake)?.Stage ?? OrderStage.WrittenUp
            : order.Stage;
    }

    private static string? Missing(RepairOrder order, OrderStage to, RepairCheck? check)
    {
        switch (to)
        {
            case OrderStage.AwaitingParts or OrderStage.InRepair when !order.Approval.AnyYes:
                return NobodyApproved;
            case OrderStage.AwaitingParts or OrderStage.InRepair when !order.Approval.Covers:
                return MoreThanApproved;
            case OrderStage.InRepair when order.Parts.Any(p => p.State is PartState.Wanted or PartState.Ordered):
                return "Not all parts are here. Say why the repair starts.";
            case OrderStage.RepairCheck or OrderStage.Ready or OrderStage.HandedOver:
                // Of money and parts it is asked when the car comes from the lift and once more when it leaves; not at every step in between.
                var once = order.Stage < OrderStage.RepairCheck || to == OrderStage.HandedOver;
                var missing = string.Join(' ', new[] { once ? NotApproved(order) : "", once ? NotFitted(order) : "", to >= OrderStage.Ready ? NotProven(order, check) : "" }.Where(m => m.Length > 0));
                return missing.Length > 0 ? missing : null;
            default:
                return null;
        }
    }

    // Who was asked and wanted nothing has his car back without a question.
    private static string NotApproved(RepairOrder order) =>
        order.Approval is { AnyYes: true, Covers: false } ? MoreThanApproved
        : order.Approvals.IsEmpty && order.Stage < OrderStage.InRepair && order.Estimate.Any(l => l.Counts) ? NobodyApproved
        : "";

    private static string NotFitted(RepairOrder order) =>
        Named(order, PartState.Wanted, PartState.Ordered, PartState.Received) is { Length: > 0 } parts
            ? $"Not fitted by what is written here: {parts}. Say under Parts what became of them, or say why they are not on the car."
            : "";

    private static string NotProven(RepairOrder order, RepairCheck? check) => order.Finding is null ? "" : check?.Verdict switch
    {
        RepairVerdict.Good => "",
        RepairVerdict.StillTrouble => $"{check.InWords} Say why it goes on all the same.",
        RepairVerdict.Incomplete => $"{check.InWords} Take that again, or say why not.",
        _ when order.Readings.Any(IsAfter) => "",
        _ => "No reading was taken after the repair: nothing proves it yet. Take the readings again, or say why not.",
    };

    private static string Named(RepairOrder order, params ImmutableArray<PartState> states) =>
        string.Join("; ", order.Parts.Where(p => states.Contains(p.State)).Select(p => $"{p.Quantity} × {p.Text}{(p.Position.Length > 0 ? $", {p.Position}" : "")}"));

    private static bool IsAfter(StoredReading reading) => reading is { Superseded: false, Withdrawn: false, Reading.Stage: Stage.After };
}
