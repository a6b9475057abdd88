using ShopDiag.Diagnosis.Causes;

namespace ShopDiag.Diagnosis.Evidence;

/// <summary>What one repair mends counts together: a worn plug and a fouled one are both gone with a new plug, and a coil on plug comes with its boot.</summary>
internal static class SameRepair
{
    /// <summary>Probability that the repair of a cause mends the trouble at its place: that of the cause and of all that goes with the same main part or that its entry names.</summary>
    public static double Probability(Belief belief, Cause cause, Place at)
    {
        var sum = 0.0;
        for (var h = 0; h < belief.Hypotheses.Length; h++)
        {
            sum += belief.Hypotheses[h].At == at && Mends(cause, belief.Hypotheses[h].Cause) ? belief.Probability(h) : 0;
        }

        return Math.Min(1, sum);
    }

    /// <summary>The hypotheses of listed causes whose repair mends the trouble with at least some probability, in order.</summary>
    public static IEnumerable<int> Likely(Belief belief, double least)
    {
        // Where all causes of a place together do not come to it, none does.
        var places = Enumerable.Range(0, belief.Hypotheses.Length).GroupBy(h => belief.Hypotheses[h].At)
            .Where(place => place.Sum(belief.Probability) >= least)
            .Select(place => place.Key)
            .ToHashSet();
        return Enumerable.Range(0, belief.Hypotheses.Length).Where(h =>
            !belief.Hypotheses[h].Cause.Unlisted && places.Contains(belief.Hypotheses[h].At)
            && Probability(belief, belief.Hypotheses[h].Cause, belief.Hypotheses[h].At) >= least);
    }

    /// <summary>True when the repair of a cause mends the other at the same place too.</summary>
    public static bool Mends(Cause cause, Cause other) =>
        cause == other || cause.AlsoMends.Contains(other.Id) || (MainPart(cause) is { } part && MainPart(other) == part);

    /// <summary>True when what was repaired mends a cause at a place.</summary>
    public static bool IsMended(Knowledge knowledge, IEnumerable<(string Cause, Place At)> repaired, Cause cause, Place at) =>
        repaired.Any(r => r.At == at && knowledge.Cause(r.Cause) is { } done && Mends(done, cause));

    /// <summary>The part that its repair is about, or null.</summary>
    public static string? MainPart(Cause cause) => cause.Repair.Parts is [var first, ..] ? first.Part : null;
}
