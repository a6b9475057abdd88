using System.Collections.Immutable;

namespace ShopDiag.Estimates;

/// <summary>What an approval does to the parts of an order.</summary>
/// <param name="Wanted">Lines with the number of pieces that are wanted beyond what is on its way.</param>
/// <param name="Dropped">Parts that nothing has been done about and that are no longer approved.</param>
public sealed record PartsChange(ImmutableArray<(EstimateLine Line, int Quantity)> Wanted, ImmutableArray<PartOnOrder> Dropped);

/// <summary>Which parts the approved lines of an estimate ask for.</summary>
public static class PartsFromLines
{
    /// <summary>What is to be wanted and what to be dropped, so that the parts on their way are those approved. A part already ordered is never dropped.</summary>
    public static PartsChange Of(IReadOnlyCollection<EstimateLine> lines, ApprovalState approval, IReadOnlyCollection<PartOnOrder> parts)
    {
        ArgumentNullException.ThrowIfNull(lines);
        ArgumentNullException.ThrowIfNull(approval);
        ArgumentNullException.ThrowIfNull(parts);
        var approved = lines.Where(l => l is { Kind: LineKind.Part, Counts: true } && approval.Of(l.Id) == Decided.Yes).ToDictionary(l => l.Id, l => (int)(l.Thousandths / 1000));
        var under = parts.Where(p => p.State != PartState.Returned).GroupBy(p => p.LineId).ToDictionary(g => g.Key, g => g.Sum(p => p.Quantity));
        return new(
            [.. lines.Where(l => approved.GetValueOrDefault(l.Id) > under.GetValueOrDefault(l.Id)).Select(l => (l, approved[l.Id] - under.GetValueOrDefault(l.Id)))],
            [.. parts.Where(p => p.State == PartState.Wanted && !approved.ContainsKey(p.LineId))]);
    }
}
