namespace ShopDiag.Comebacks.Statistics;

/// <summary>The middle of a series and the middles of its halves, in its unit.</summary>
/// <param name="Lower">A quarter of the values lies below.</param>
/// <param name="Median">The middle one.</param>
/// <param name="Upper">A quarter of the values lies above.</param>
public readonly record struct Quartiles(double Lower, double Median, double Upper)
{
    /// <summary>
    /// Between neighbouring values in a straight line, the p-th at (n−1)p from the first: definition 7 of Hyndman and Fan (The American Statistician 50 (1996) 361),
    /// which most tables and spreadsheets use. Throws <see cref="ArgumentException"/> when there is no value.
    /// </summary>
    public static Quartiles Of(IEnumerable<double> values)
    {
        double[] sorted = [.. values.Order()];
        return sorted.Length == 0
            ? throw new ArgumentException("The quartiles of no values.", nameof(values))
            : new(At(sorted, 0.25), At(sorted, 0.5), At(sorted, 0.75));
    }

    private static double At(double[] sorted, double share)
    {
        var place = (sorted.Length - 1) * share;
        var below = (int)place;
        var above = Math.Min(below + 1, sorted.Length - 1);
        return sorted[below] + ((sorted[above] - sorted[below]) * (place - below));
    }
}
