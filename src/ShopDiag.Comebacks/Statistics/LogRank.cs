using System.Collections.Immutable;

namespace ShopDiag.Comebacks.Statistics;

/// <summary>One group in the comparison.</summary>
/// <param name="Observed">To how many it happened.</param>
/// <param name="Expected">To how many it would have happened if the groups did not differ.</param>
/// <param name="Variance">Hypergeometric variance of the first about the second.</param>
public readonly record struct LogRankGroup(int Observed, double Expected, double Variance)
{
    /// <summary>(O−E)²/V, one degree of freedom: this group against all the others together. 0 where nothing could differ.</summary>
    public double ChiSquare => Variance > 0 ? (Observed - Expected) * (Observed - Expected) / Variance : 0;

    /// <summary>Probability of a difference at least as large by chance.</summary>
    public double P => Variance > 0 ? Statistics.ChiSquare.Above(ChiSquare, 1) : 1;
}

/// <summary>What the comparison came to.</summary>
/// <param name="ChiSquare">The statistic d'V⁻¹d of the deviations of all groups but one; for two groups (O−E)²/V.</param>
/// <param name="DegreesOfFreedom">Groups that can differ, less one.</param>
/// <param name="P">Probability of a statistic at least as large if the groups do not differ.</param>
/// <param name="Groups">The groups as given.</param>
public sealed record LogRankResult(double ChiSquare, int DegreesOfFreedom, double P, ImmutableArray<LogRankGroup> Groups);

/// <summary>
/// The log-rank test (Mantel 1966, Peto and Peto 1972): do curves of groups, watched for different times, differ by more than chance? In the variance form, with the
/// hypergeometric variance at each time; the form Σ(O−E)²/E, which some print under the same name, comes out smaller and is another statistic.
/// </summary>
public static class LogRank
{
    /// <summary>The name under which the statistic is shown, with its form.</summary>
    public const string Form = "log-rank, variance form (O−E)²/V";

    /// <summary>Compares groups of observations in any order; nobody is in two of them. Fewer than two groups that can differ: statistic 0, probability 1.</summary>
    /// <exception cref="ArgumentOutOfRangeException">A time lies below 0.</exception>
    public static LogRankResult Compare(IEnumerable<IEnumerable<Observation>> groups)
    {
        ArgumentNullException.ThrowIfNull(groups);
        Observation[][] sorted = [.. groups.Select(Observation.Sorted)];
        return CompareSorted(Observation.Sorted(sorted.SelectMany(g => g)), sorted);
    }

    /// <summary>The same for groups in order of time, and all of them together in order of time.</summary>
    internal static LogRankResult CompareSorted(ReadOnlySpan<Observation> all, IReadOnlyList<Observation[]> groups)
    {
        var timeline = EventTimeline.OfSorted(all);
        var shares = groups.Select(g => timeline.SharesOf(g)).ToArray();
        var rows = groups.Select((g, i) => Row(timeline, g, shares[i])).ToImmutableArray();
        var (value, degrees) = ChiSquare.Of([.. rows.Select(r => r.Observed - r.Expected)], Covariances(timeline, shares));
        return new(value, degrees, ChiSquare.Above(value, degrees), rows);
    }

    /// <summary>One group, part of all, against the rest of them.</summary>
    internal static LogRankGroup Against(EventTimeline timeline, ReadOnlySpan<Observation> group) => Row(timeline, group, timeline.SharesOf(group));

    private static LogRankGroup Row(EventTimeline timeline, ReadOnlySpan<Observation> group, double[] shares)
    {
        var observed = 0;
        foreach (var one in group)
        {
            observed += one.Happened ? 1 : 0;
        }

        return new(observed, timeline.Expected(shares), timeline.Covariance(shares, shares));
    }

    private static double[,] Covariances(EventTimeline timeline, double[][] shares)
    {
        var matrix = new double[shares.Length, shares.Length];
        for (var i = 0; i < shares.Length; i++)
        {
            for (var j = 0; j <= i; j++)
            {
                matrix[i, j] = matrix[j, i] = timeline.Covariance(shares[i], shares[j]);
            }
        }

        return matrix;
    }
}
