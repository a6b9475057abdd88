using System.Collections.Immutable;

namespace ShopDiag.Estimates;

/// <summary>What is decided about one line.</summary>
public enum Decided
{
    /// <summary>Nobody has been asked.</summary>
    Open,

    /// <summary>Approved.</summary>
    Yes,

    /// <summary>Not wanted.</summary>
    No,
}

/// <summary>
/// Where an estimate stands with the customer. The last word on a line counts. Money may move between approved lines, but what they come to now must not
/// exceed what was approved for them (common legal practice: a written estimate, and asking before it is exceeded; local law decides).
/// </summary>
/// <param name="Lines">The lines that count, each with what was decided.</param>
/// <param name="ApprovedMinor">What the approved lines came to when they were approved, with tax.</param>
/// <param name="PresentMinor">What they come to now, with tax.</param>
public sealed record ApprovalState(ImmutableDictionary<Guid, Decided> Lines, long ApprovedMinor, long PresentMinor)
{
    /// <summary>What the approved lines come to above what was approved.</summary>
    public long OverMinor => Math.Max(0, PresentMinor - ApprovedMinor);

    /// <summary>True when at least one line is approved.</summary>
    public bool AnyYes => Lines.ContainsValue(Decided.Yes);

    /// <summary>True when work may go on: something is approved and nothing exceeds it.</summary>
    public bool Covers => AnyYes && OverMinor == 0;

    /// <summary>What was decided about a line; a line that does not count is open.</summary>
    public Decided Of(Guid line) => Lines.GetValueOrDefault(line, Decided.Open);

    /// <summary>Where it stands with these lines after these approvals, oldest first.</summary>
    public static ApprovalState Of(IEnumerable<EstimateLine> lines, IEnumerable<Approval> approvals)
    {
        var last = new Dictionary<Guid, LineDecision>();
        foreach (var decision in approvals.SelectMany(a => a.Decisions))
        {
            last[decision.Line] = decision;
        }

        var counted = lines.Where(l => l.Counts).ToList();
        var approved = counted.Where(l => last.TryGetValue(l.Id, out var d) && d.Yes).ToList();
        return new(
            counted.ToImmutableDictionary(l => l.Id, l => !last.TryGetValue(l.Id, out var d) ? Decided.Open : d.Yes ? Decided.Yes : Decided.No),
            approved.Sum(l => last[l.Id].TotalMinor),
            approved.Sum(l => LineAmounts.Of(l).Total));
    }
}
