namespace ShopDiag.Diagnosis.Evidence;

/// <summary>One aspect at one place: what each hypothesis shows there, looked up once for all fault sets.</summary>
/// <param name="Healthy">What a sound engine shows, in the order of the aspect's outcomes.</param>
/// <param name="Shown">What each hypothesis shows; null where it is as on a sound engine.</param>
internal sealed record Channel(double[] Healthy, double[]?[] Shown)
{
    /// <summary>The distribution of the outcomes when a set of faults is present, or null where it is as on a sound engine.</summary>
    public double[]? Predict(FaultSet set)
    {
        var one = Shown[set.One];
        var other = set.Other is { } o ? Shown[o] : null;
        return (one, other) switch
        {
            (null, _) => other,
            (_, null) => one,
            _ => Pool(one, other),
        };
    }

    // Two faults that speak of one finding: a(o)*b(o)/healthy(o), scaled to add up to 1.
    private double[] Pool(double[] one, double[] other)
    {
        var total = PoolTotal(one, other, Healthy);
        var pooled = new double[Healthy.Length];
        for (var o = 0; o < pooled.Length; o++)
        {
            pooled[o] = one[o] * other[o] / Healthy[o] / total;
        }

        return pooled;
    }

    /// <summary>What the log-linear combination of two distributions adds up to before it is scaled.</summary>
    public static double PoolTotal(double[] one, double[] other, double[] healthy)
    {
        var total = 0.0;
        for (var o = 0; o < healthy.Length; o++)
        {
            total += one[o] * other[o] / healthy[o];
        }

        return total;
    }
}
