using MathNet.Numerics.Distributions;

namespace ShopDiag.Comebacks.Statistics;

/// <summary>Between which shares the true one lies when some of a number of cases were hits. No cases: any share.</summary>
/// <remarks>
/// Both throw <see cref="ArgumentOutOfRangeException"/> unless 0 &lt;= hits &lt;= cases and the confidence lies between 0 and 1, both excluded.
/// </remarks>
public static class Proportions
{
    /// <summary>
    /// Wilson's score interval without continuity correction: centre (p + z²/2n) / (1 + z²/n), half width z √(p(1−p)/n + z²/4n²) / (1 + z²/n).
    /// Holds the share seen and never leaves 0 to 1; right on average, also for small numbers. Source: NIST/SEMATECH e-Handbook 7.2.4.1; Newcombe,
    /// Statistics in Medicine 17 (1998) 857, method 3. Use <see cref="ClopperPearson"/> where it must never be too narrow.
    /// </summary>
    public static Interval Wilson(long hits, long cases, double confidence = Confidence.Usual)
    {
        Check(hits, cases);
        var z = Confidence.Deviations(confidence);
        if (cases == 0)
        {
            return Interval.AnyShare;
        }

        var (share, more) = ((double)hits / cases, z * z / cases);
        var centre = share + (more / 2);
        var half = Math.Sqrt((more * share * (1 - share)) + (more * more / 4));

        // The ends that the formula gives exactly, free of the last digit's rounding.
        return new(hits == 0 ? 0 : (centre - half) / (1 + more), hits == cases ? 1 : (centre + half) / (1 + more));
    }

    /// <summary>
    /// The exact interval of Clopper and Pearson (1934): quantiles of the beta distribution, (1−confidence)/2 of Beta(x, n−x+1) and the same from above of
    /// Beta(x+1, n−x). Never misses more often than it says, so it is wider than needed. Good to six digits of either end up to a million cases.
    /// </summary>
    public static Interval ClopperPearson(long hits, long cases, double confidence = Confidence.Usual)
    {
        Check(hits, cases);
        var tail = (1 - Confidence.Checked(confidence)) / 2;
        return new(
            hits == 0 ? 0 : Beta.InvCDF(hits, cases - hits + 1, tail),
            hits == cases ? 1 : Beta.InvCDF(hits + 1, cases - hits, 1 - tail));
    }

    private static void Check(long hits, long cases)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(cases);
        ArgumentOutOfRangeException.ThrowIfNegative(hits);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(hits, cases);
    }
}
