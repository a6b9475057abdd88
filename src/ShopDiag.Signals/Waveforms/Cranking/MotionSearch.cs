namespace ShopDiag.Signals.Waveforms.Cranking;

/// <summary>Finds the motion of the crank that explains a stretch of current: by the linear fit, which cannot lose its way, then by the model with the clutch.</summary>
internal sealed class MotionSearch(CompressionFit fit, double hertz, int cylinders)
{
    /// <summary>Usual ratio to begin with.</summary>
    private const double FirstRatio = 9;

    /// <summary>Starts that are followed up.</summary>
    private const int Starts = 3;

    private static readonly double[] Lags = [0.01, 0.025, 0.06, 0.13];

    private double[] Low(double[] at) => [at[0] - 0.2, -0.5, -0.5, 0.05 / fit.Highest, at[4] - 0.5, Math.Log(CrankMotion.ShortestLag), Math.Log(CrankMotion.LeastRatio)];

    private double[] High(double[] at) => [at[0] + 0.2, 0.5, 0.5, 0.95 / fit.Highest, at[4] + 0.5, Math.Log(CrankMotion.LongestLag), Math.Log(CrankMotion.MostRatio)];

    private static double[] Steps => [1e-4, 1e-3, 1e-3, 1e-3, 1e-4, 0.01, 0.01];

    /// <summary>The motions that the linear fit comes to for about so many working cycles a second, all cylinders of the same shape; the best first.</summary>
    public (CrankMotion Motion, double[] Factors, double Sum)[] Linear(double rate)
    {
        var coarse = Coarse(rate);
        var sound = Sound(FirstRatio);
        var starts = new List<(CrankMotion Motion, double Sum)>();
        for (var k = 0; k < 12; k++)
        {
            var phase = k / 12.0 / cylinders;
            starts.Add(Lags.Select(lag => coarse with { Lag = lag, Phase = phase }).Select(m => (m, DampedSearch.Squares(fit.Solved(fit.Columns(m, sound)).Residuals))).MinBy(m => m.Item2));
        }

        return [.. starts.OrderBy(s => s.Sum).Take(Starts).Select(s => Followed(s.Motion)).OrderBy(f => f.Sum)];
    }

    /// <summary>The full model, from where the linear fit came to; patiently: each of its starts to the end.</summary>
    public FittedCranking Full(CrankMotion motion, double[] factors, bool patient) => new ClutchSearch(fit, hertz, cylinders).From(motion, factors, patient);

    private (CrankMotion Motion, double[] Factors, double Sum) Followed(CrankMotion start)
    {
        double[] Residuals(double[] u) => CrankMotion.Of(u) is var m ? fit.Solved(fit.Columns(m, Sound(m.Ratio))).Residuals : [];
        var u = start.Unknowns;
        var motion = CrankMotion.Of(DampedSearch.Least(Residuals, u, Steps, Low(u), High(u), 15));
        var (factors, residuals) = fit.Solved(fit.Columns(motion, Sound(motion.Ratio)));
        return (motion, factors, DampedSearch.Squares(residuals));
    }

    private double[][] Sound(double ratio) => [.. Enumerable.Repeat(new CompressionShape(ratio).Sound, cylinders)];

    /// <summary>Mean and trend of the speed by the firing harmonics alone, over a grid.</summary>
    private CrankMotion Coarse(double rate)
    {
        var best = (Motion: default(CrankMotion), Sum: double.MaxValue);
        var swing = 0.5 / fit.Highest;
        for (var r = -12; r <= 12; r++)
        {
            for (var d = -10; d <= 10; d++)
            {
                var motion = new CrankMotion(rate * (1 + (r * 0.01)), d * 0.02, 0, swing, 0, 0.07, FirstRatio);
                var cycles = motion.Cycles(fit.Current, hertz);
                var rows = new double[cycles.Length][];
                for (var i = 0; i < rows.Length; i++)
                {
                    var (sin, cos) = Math.SinCos(2 * Math.PI * cylinders * cycles[i]);
                    rows[i] = [sin, cos];
                }

                var sum = DampedSearch.Squares(fit.Solved(rows).Residuals);
                best = sum < best.Sum ? (motion, sum) : best;
            }
        }

        return best.Motion;
    }
}
