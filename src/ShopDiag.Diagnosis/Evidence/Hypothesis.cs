using ShopDiag.Diagnosis.Causes;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.Evidence;

/// <summary>One cause at one place, with its share of the prior.</summary>
/// <param name="Cause">The cause.</param>
/// <param name="Index">The cause's number in the knowledge.</param>
/// <param name="At">Where.</param>
/// <param name="Prior">Prior probability among all single faults of the engine; they add up to 1.</param>
internal sealed record Hypothesis(Cause Cause, int Index, Place At, double Prior)
{
    /// <summary>
    /// Every cause at every place it can sit at, a cause's weight shared evenly by its places, in order of id and place.
    /// A cause in <paramref name="repaired"/>, and what the same new part mends, keeps a small share: a new part may be faulty or badly fitted.
    /// </summary>
    public static Hypothesis[] For(Workup workup, Knowledge knowledge, IReadOnlySet<(string Cause, Place At)> repaired)
    {
        var mended = repaired
            .SelectMany(r => knowledge.Causes.Where(c => knowledge.Cause(r.Cause) is { } done && SameRepair.Mends(done, c)).Select(c => (c.Id, r.At)))
            .ToHashSet();
        var raw = knowledge.Causes
            .Select((c, i) => (Cause: c, Index: i))
            .Where(p => p.Cause.Fits(workup.Engine))
            .Select(p => (p.Cause, p.Index, Places: p.Cause.PlacesOn(workup.Engine).ToArray()))
            .SelectMany(p => p.Places.Select(at => new Hypothesis(p.Cause, p.Index, at, Weight(p.Cause, p.Places.Length, at))))
            .ToArray();
        var total = raw.Sum(h => h.Prior);
        return [.. raw.Select(h => h with { Prior = h.Prior / total })];

        double Weight(Cause cause, int places, Place at) =>
            (workup.Shop.PriorWeights?.GetValueOrDefault(cause.Id, cause.Weight) ?? cause.Weight) / places * (mended.Contains((cause.Id, at)) ? AfterRepairShare : 1);
    }

    /// <summary>What is left of a cause's weight once it has been repaired: 0.03. Common practice: new parts are seldom faulty, but it happens.</summary>
    public const double AfterRepairShare = 0.03;

    /// <summary>True when the two can be present together.</summary>
    public bool PairsWith(Hypothesis other) =>
        !Cause.Alone && !other.Cause.Alone && !Cause.Unlisted && !other.Cause.Unlisted
        && (Cause.Id != other.Cause.Id || At != other.At);
}
