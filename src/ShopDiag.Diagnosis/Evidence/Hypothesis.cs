using System.Collections.Immutable;
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
    /// <summary>Prior probability before the earlier repairs of a comeback are counted; these add up to 1 too.</summary>
    public double Base { get; init; } = Prior;

    /// <summary>What the earlier repairs do to it.</summary>
    public ImmutableArray<EarlierEffect> Earlier { get; init; } = [];

    /// <summary>What those effects take from every hypothesis alike so that the priors add up to 1 again, in bits; 0 without any.</summary>
    public double CommonBits => Math.Log2(Prior / Base) - EarlierBits;

    private double EarlierBits => Earlier.Sum(e => e.Bits);

    /// <summary>
    /// Every cause at every place it can sit at, a cause's weight shared evenly by its places, in order of id and place.
    /// A cause in <paramref name="repaired"/>, and what the same new part mends, keeps a small share: a new part may be faulty or badly fitted.
    /// </summary>
    public static Hypothesis[] For(Workup workup, Knowledge knowledge, IReadOnlySet<(string Cause, Place At)> repaired)
    {
        var raw = knowledge.Causes
            .Select((c, i) => (Cause: c, Index: i))
            .Where(p => p.Cause.Fits(workup.Engine))
            .Select(p => (p.Cause, p.Index, Places: p.Cause.PlacesOn(workup.Engine).ToArray()))
            .SelectMany(p => p.Places.Select(at => new Hypothesis(p.Cause, p.Index, at, Weight(p.Cause, p.Places.Length, at))))
            .ToArray();
        var total = raw.Sum(h => h.Prior);
        var work = new EarlierWork(workup.Engine, knowledge, workup.EarlierRepairs);
        Hypothesis[] before = [.. raw.Select(h => h with { Base = h.Prior / total, Earlier = work.On(h.Cause, h.At) })];
        var after = before.Sum(h => h.Base * Math.Pow(2, h.EarlierBits));
        return [.. before.Select(h => h with { Prior = h.Base * Math.Pow(2, h.EarlierBits) / after })];

        double Weight(Cause cause, int places, Place at) =>
            (workup.Shop.PriorWeights?.GetValueOrDefault(cause.Id, cause.Weight) ?? cause.Weight) / places * (SameRepair.IsMended(knowledge, repaired, cause, at) ? AfterRepairShare : 1);
    }

    /// <summary>What is left of a cause's weight once it has been repaired: 0.03. Common practice: new parts are seldom faulty, but it happens.</summary>
    public const double AfterRepairShare = 0.03;

    /// <summary>True when the two can be present together.</summary>
    public bool PairsWith(Hypothesis other) =>
        !Cause.Alone && !other.Cause.Alone && !Cause.Unlisted && !other.Cause.Unlisted
        && (Cause.Id != other.Cause.Id || At != other.At);
}
