using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Estimates;
using ShopDiag.Storage.Orders;

namespace ShopDiag.Web.Orders;

/// <summary>Concern, cause and correction of an order.</summary>
/// <param name="Concern">What the customer says.</param>
/// <param name="Cause">What was found.</param>
/// <param name="Correction">What was done.</param>
public sealed record WriteUp(string Concern, string Cause, string Correction)
{
    /// <summary>As the order now drafts them.</summary>
    public static WriteUp DraftOf(RepairOrder order, Assessment? assessment, Knowledge knowledge)
    {
        ArgumentNullException.ThrowIfNull(order);
        var source = new WriteUpSource
        {
            ConcernText = order.ConcernText,
            Concern = order.Concern,
            Assessment = assessment,
            Finding = order.Finding?.Conclusion,
            UnprovenReason = order.Finding?.UnprovenReason,
            Fitted = [.. order.Parts.Where(p => p.State == PartState.Fitted)],
            Repaired = order.Stage.HasReached(OrderStage.RepairCheck),
        };
        return new(WriteUpDraft.Concern(source), WriteUpDraft.Cause(source, knowledge), WriteUpDraft.Correction(source, knowledge));
    }

    /// <summary>As they stand: a person's words where there are some, else the draft.</summary>
    public static WriteUp Of(RepairOrder order, Assessment? assessment, Knowledge knowledge)
    {
        var draft = DraftOf(order, assessment, knowledge);
        return new(
            order.WrittenConcern.Length > 0 ? order.WrittenConcern : draft.Concern,
            order.WrittenCause.Length > 0 ? order.WrittenCause : draft.Cause,
            order.WrittenCorrection.Length > 0 ? order.WrittenCorrection : draft.Correction);
    }

    /// <summary>In one line: whose words they are.</summary>
    public static string Line(RepairOrder order)
    {
        ArgumentNullException.ThrowIfNull(order);
        var own = new[] { order.WrittenConcern, order.WrittenCause, order.WrittenCorrection }.Count(w => w.Length > 0);
        return own == 0 ? "drafted from the order" : $"{own} of 3 in your own words";
    }
}
