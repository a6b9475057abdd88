using ShopDiag.Diagnosis.Causes;

namespace ShopDiag.Diagnosis.Evidence;

/// <summary>What one repair mends counts together: a worn plug and a fouled one are both gone with a new plug, and a coil on plug comes with its boot.</summary>
internal static class SameRepair
{
    /// <summary>Probability that the repair of a cause mends the trouble: that of the cause and of all at its place that goes with the same main part or that its entry names; of a part that is renewed as a set, at any place.</summary>
    public static double Probability(Belief belief, Cause cause, Place at)
    {
        if (RenewsTheSet(cause))
        {
            // Two worn plugs are one repair: the sets of faults are counted, so that a car with both is not counted twice.
            return Math.Min(1, belief.Sets.Where(s => Reaches(s.One) || (s.Other is { } other && Reaches(other))).Sum(s => s.Weight));
        }

        var sum = 0.0;
        for (var h = 0; h < belief.Hypotheses.Length; h++)
        {
            sum += Reaches(h) ? belief.Probability(h) : 0;
        }

        return Math.Min(1, sum);

        bool Reaches(int h) => SameRepair.Reaches(cause, at, belief.Hypotheses[h].Cause, belief.Hypotheses[h].At);
    }

    /// <summary>The hypotheses of listed causes whose repair mends the trouble with at least some probability, in order.</summary>
    public static IEnumerable<int> Likely(Belief belief, double least)
    {
        // Where all causes of a place together do not come to it, none does, but of what is renewed as a set.
        var places = Enumerable.Range(0, belief.Hypotheses.Length).GroupBy(h => belief.Hypotheses[h].At)
            .Where(place => place.Sum(belief.Probability) >= least)
            .Select(place => place.Key)
            .ToHashSet();
        var sets = Enumerable.Range(0, belief.Hypotheses.Length).GroupBy(h => belief.Hypotheses[h].Cause)
            .Where(same => RenewsTheSet(same.Key) && same.Sum(belief.Probability) >= least)
            .Select(same => same.Key)
            .ToHashSet();
        return Enumerable.Range(0, belief.Hypotheses.Length).Where(h =>
            !belief.Hypotheses[h].Cause.Unlisted && (places.Contains(belief.Hypotheses[h].At) || sets.Contains(belief.Hypotheses[h].Cause))
            && Probability(belief, belief.Hypotheses[h].Cause, belief.Hypotheses[h].At) >= least);
    }

    /// <summary>True when the repair of a cause at a place mends the other at the other place too.</summary>
    public static bool Reaches(Cause cause, Place at, Cause other, Place otherAt) => at == otherAt ? Mends(cause, other) : cause == other && RenewsTheSet(cause);

    /// <summary>True when its part is renewed on all cylinders, whichever of them no longer works.</summary>
    public static bool RenewsTheSet(Cause cause) => cause.Repair.Parts is [{ Count: PartCount.WholeSet }, ..];

    /// <summary>True when the repair of a cause mends the other at the same place too.</summary>
    public static bool Mends(Cause cause, Cause other) =>
        cause == other || cause.AlsoMends.Contains(other.Id) || (MainPart(cause) is { } part && MainPart(other) == part);

    /// <summary>True when what was repaired mends a cause at a place; a set that was renewed mends at every place what its parts mend at one.</summary>
    public static bool IsMended(Knowledge knowledge, IEnumerable<(string Cause, Place At)> repaired, Cause cause, Place at) =>
        repaired.Any(r => knowledge.Cause(r.Cause) is { } done && (r.At == at || RenewsTheSet(done)) && Mends(done, cause));

    /// <summary>The part that its repair is about, or null.</summary>
    public static string? MainPart(Cause cause) => cause.Repair.Parts is [var first, ..] ? first.Part : null;
}
