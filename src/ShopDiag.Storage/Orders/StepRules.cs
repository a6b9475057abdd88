using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Estimates;

namespace ShopDiag.Storage.Orders;

/// <summary>When a step of an order asks for a reason, which then stays on record.</summary>
public static class StepRules
{
    /// <summary>
    /// What is missing for a step, in plain words; null when nothing is. A step back; work or parts that nobody approved, or that cost more than was approved;
    /// parts not here; a car handed over as fixed without a reading after the repair.
    /// </summary>
    public static string? AsksReason(RepairOrder order, OrderStage to)
    {
        ArgumentNullException.ThrowIfNull(order);
        if (to < order.Stage)
        {
            return "A step back needs a reason.";
        }

        return to switch
        {
            OrderStage.AwaitingParts or OrderStage.InRepair when !order.Approval.AnyYes => "Nobody has approved the work yet. Write down what the customer said under Estimate, or say why it goes on.",
            OrderStage.AwaitingParts or OrderStage.InRepair when !order.Approval.Covers => "The approved lines now come to more than was approved. Ask the customer again, or say why it goes on.",
            OrderStage.InRepair when order.Parts.Any(p => p.State is PartState.Wanted or PartState.Ordered) => "Not all parts are here. Say why the repair starts.",
            OrderStage.Ready or OrderStage.HandedOver when order.Finding is not null && !order.Readings.Any(IsAfter) => "No reading was taken after the repair: nothing proves it yet. Take the readings again, or say why not.",
            _ => null,
        };
    }

    private static bool IsAfter(StoredReading reading) => reading is { Superseded: false, Withdrawn: false, Reading.Stage: Stage.After };
}
