namespace ShopDiag.Signals.Waveforms.Cranking;

/// <summary>How far apart the humps of a cranking current are, by its likeness to itself some time later.</summary>
internal static class HumpPeriod
{
    /// <summary>Slowest cranking that is looked for, rpm.</summary>
    public const double SlowestRpm = 50;

    /// <summary>Fastest, rpm.</summary>
    public const double FastestRpm = 420;

    /// <summary>A first peak this high beside the highest is the humps'; the highest may be the whole cycle's when one is weak.</summary>
    private const double OfHighest = 0.45;

    /// <summary>Working cycles a second that the humps may mean, the likeliest first.</summary>
    public static double[] Cycles(double[] current, double hertz, int cylinders)
    {
        var likeness = Likeness(current, hertz, cylinders);
        var peaks = Enumerable.Range(1, Math.Max(0, likeness.Length - 2)).Where(i => likeness[i] > likeness[i - 1] && likeness[i] >= likeness[i + 1] && likeness[i] > 0).ToArray();
        var (shortest, longest) = (120 / FastestRpm / cylinders * hertz, 120 / SlowestRpm / cylinders * hertz);
        int[] fitting = [.. peaks.Where(p => p >= shortest && p <= longest)];
        if (fitting.Length == 0)
        {
            return [];
        }

        var highest = fitting.Max(p => likeness[p]);
        var first = fitting.First(p => likeness[p] >= OfHighest * highest);
        var whole = peaks.MaxBy(p => likeness[p]);
        double[] periods = [first, first * 2, first / 2.0, (double)whole / cylinders, (double)fitting.MaxBy(p => likeness[p])];
        return [.. periods.Where(p => p >= shortest && p <= longest).Select(p => hertz / p / cylinders).Aggregate(new List<double>(), (kept, rate) =>
        {
            if (!kept.Exists(k => Math.Abs((k / rate) - 1) < 0.06))
            {
                kept.Add(rate);
            }

            return kept;
        })];
    }

    private static double[] Likeness(double[] current, double hertz, int cylinders)
    {
        var reach = (int)Math.Min(current.Length * 0.6, 120 / SlowestRpm * hertz);
        var flat = Flattened(current, (int)(hertz * 0.6));
        var likeness = new double[reach];
        for (var lag = 0; lag < reach; lag++)
        {
            var sum = 0.0;
            for (var i = lag; i < flat.Length; i++)
            {
                sum += flat[i] * flat[i - lag];
            }

            likeness[lag] = sum / (flat.Length - lag);
        }

        return likeness;
    }

    /// <summary>Less the mean over a second or so: run-up and droop would drown the humps.</summary>
    private static double[] Flattened(double[] current, int reach)
    {
        var sums = new double[current.Length + 1];
        for (var i = 0; i < current.Length; i++)
        {
            sums[i + 1] = sums[i] + current[i];
        }

        var flat = new double[current.Length];
        for (var i = 0; i < current.Length; i++)
        {
            var (from, to) = (Math.Max(0, i - reach), Math.Min(current.Length, i + reach + 1));
            flat[i] = current[i] - ((sums[to] - sums[from]) / (to - from));
        }

        return flat;
    }
}
