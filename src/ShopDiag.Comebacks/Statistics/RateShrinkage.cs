namespace ShopDiag.Comebacks.Statistics;

/// <summary>Hits among cases of one group.</summary>
/// <param name="Hits">How many, from 0 to <paramref name="Cases"/>.</param>
/// <param name="Cases">Of how many.</param>
public readonly record struct RateCount(long Hits, long Cases);

/// <summary>
/// Rates of groups drawn towards the rate of all together, small groups further than large ones: for ranking, so that two of three does not stand above thirty of
/// a hundred. Beta-binomial empirical Bayes: with the prior Beta(mM, (1−m)M) a group of x in n is given (x + mM)/(n + M).
/// </summary>
/// <remarks>
/// m is the rate of all groups together, M is estimated by moments (Kleinman, J. Am. Stat. Assoc. 68 (1973) 46): with Q = Σ n(p−m)²/(m(1−m)) over k groups, whose
/// expectation is Σ (1+(n−1)ρ)(1−n/N), ρ = (Q − (k−1)) / Σ (n−1)(1−n/N) and M = 1/ρ − 1. Where the groups differ no more than by chance (ρ not above 0) all get
/// the rate of all. Moments rather than likelihood: no iteration, and two groups with few hits do not send it to a border without saying so.
/// With equal groups the distance kept is about 1 − (k−1)/Q; the estimate of James and Stein keeps 1 − (k−3)/Q and cannot be used for three groups or fewer, which
/// a shop often has. Ours leans further to the middle: for a ranking, the careful side.
/// </remarks>
public sealed record RateShrinkage
{
    private RateShrinkage(double pooledRate, double strength, double heterogeneity) =>
        (PooledRate, Strength, Heterogeneity) = (pooledRate, strength, heterogeneity);

    /// <summary>The rate of all groups together, 0 to 1; 0 when there are no cases.</summary>
    public double PooledRate { get; }

    /// <summary>How many cases the rate of all is worth to a group, M: from 0; infinite where the groups differ no more than by chance.</summary>
    public double Strength { get; }

    /// <summary>Q: about the number of groups less one when they differ by chance alone, larger otherwise.</summary>
    public double Heterogeneity { get; }

    /// <summary>Learns from groups how far their rates differ.</summary>
    /// <exception cref="ArgumentOutOfRangeException">A group has more hits than cases, or a number below 0.</exception>
    public static RateShrinkage Of(IEnumerable<RateCount> groups)
    {
        ArgumentNullException.ThrowIfNull(groups);
        RateCount[] counted = [.. groups.Select(Checked).Where(g => g.Cases > 0)];
        double all = counted.Sum(g => g.Cases), pooled = all > 0 ? counted.Sum(g => g.Hits) / all : 0;
        if (pooled is 0 or 1)
        {
            return new(pooled, double.PositiveInfinity, 0);
        }

        var q = counted.Sum(g => g.Cases * Square(((double)g.Hits / g.Cases) - pooled)) / (pooled * (1 - pooled));
        var room = counted.Sum(g => (g.Cases - 1) * (1 - (g.Cases / all)));
        var together = room > 0 ? Math.Min(1, (q - (counted.Length - 1)) / room) : 0;
        return new(pooled, together > 0 ? (1 / together) - 1 : double.PositiveInfinity, q);
    }

    /// <summary>A prior that is known: Beta(<paramref name="hits"/>, <paramref name="misses"/>), both above 0.</summary>
    public static RateShrinkage Prior(double hits, double misses)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(hits);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(misses);
        return new(hits / (hits + misses), hits + misses, 0);
    }

    /// <summary>The group's rate for ranking: between its own and the rate of all, both included; the latter where it has no cases.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The group has more hits than cases, or a number below 0.</exception>
    public double Shrink(RateCount group)
    {
        Checked(group);
        if (double.IsInfinity(Strength) || group.Cases == 0)
        {
            return PooledRate;
        }

        // As a step from one to the other, so that rounding cannot carry it beyond either.
        var own = (double)group.Hits / group.Cases;
        return own + ((PooledRate - own) * (Strength / (group.Cases + Strength)));
    }

    private static double Square(double x) => x * x;

    private static RateCount Checked(RateCount group)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(group.Hits);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(group.Hits, group.Cases);
        return group;
    }
}
