using System.Globalization;
using ShopDiag.Estimates;
using ShopDiag.Storage.Orders;

namespace ShopDiag.Web.Estimates;

/// <summary>Estimates in words.</summary>
public static class EstimateWords
{
    /// <summary>Pieces or hours of a line.</summary>
    public static string Quantity(EstimateLine line)
    {
        ArgumentNullException.ThrowIfNull(line);
        return string.Create(CultureInfo.InvariantCulture, $"{line.Thousandths / 1000m:0.###}") + (line.Kind == LineKind.Labour ? " h" : "");
    }

    /// <summary>A rate: <c>8.25 %</c>.</summary>
    public static string Percent(int basisPoints) => string.Create(CultureInfo.InvariantCulture, $"{basisPoints / 100m:0.##}\u00A0%");

    /// <summary>What was decided about a line.</summary>
    public static string Of(Decided decided) => decided switch
    {
        Decided.Yes => "approved",
        Decided.No => "not wanted",
        Decided.Open => "not asked yet",
        _ => throw new InvalidOperationException($"Unknown decision {decided}."),
    };

    /// <summary>How somebody decided.</summary>
    public static string Of(ApprovalWay way) => way switch
    {
        ApprovalWay.InPerson => "in person",
        ApprovalWay.Phone => "by telephone",
        ApprovalWay.Writing => "in writing",
        _ => throw new InvalidOperationException($"Unknown way {way}."),
    };

    /// <summary>A kind of line.</summary>
    public static string Of(LineKind kind) => kind switch
    {
        LineKind.Part => "Part",
        LineKind.Labour => "Labour",
        LineKind.Fee => "Fee",
        _ => throw new InvalidOperationException($"Unknown kind {kind}."),
    };

    /// <summary>Where the estimate stands, in one line.</summary>
    public static string Line(RepairOrder order, string currency)
    {
        ArgumentNullException.ThrowIfNull(order);
        var counting = order.Estimate.Where(l => l.Counts).ToList();
        if (counting.Count == 0)
        {
            return order.Estimate.Any(l => l is { Held: true, Removed: false }) ? "parts held back: not proven" : "none yet";
        }

        var needed = Money.Say(EstimateTotals.Of(counting.Where(l => l.Choice == LineChoice.Needed)).Total, currency);
        var state = order.Approval;
        return state switch
        {
            { OverMinor: > 0 } => $"{needed} needed now; {Money.Say(state.OverMinor, currency)} above what was approved",
            { AnyYes: true } => $"{needed} needed now; {Money.Say(state.ApprovedMinor, currency)} approved",
            _ => $"{needed} needed now; nothing approved yet",
        };
    }
}
