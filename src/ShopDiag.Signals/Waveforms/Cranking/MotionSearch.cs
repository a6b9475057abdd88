namespace ShopDiag.Signals.Waveforms.Cranking;

/// <summary>Finds the motion of the crank that explains a stretch of current best.</summary>
internal sealed class MotionSearch(CompressionFit fit, double hertz, int cylinders)
{
    private static readonly double[] Lags = [0.03, 0.07, 0.15];

    /// <summary>Usual ratio to begin with.</summary>
    private const double FirstRatio = 9;

    /// <summary>The best motion for about so many working cycles a second, with the pressures in firing order.</summary>
    public FittedCranking From(double rate)
    {
        var coarse = Coarse(rate);
        var shapes = Enumerable.Repeat(new CompressionShape(FirstRatio).For(1), cylinders).ToArray();
        var best = (Motion: coarse, Sum: double.MaxValue);
        foreach (var lag in Lags)
        {
            for (var k = 0; k < 12; k++)
            {
                var motion = coarse with { Lag = lag, Phase = k / 12.0 / cylinders };
                var sum = DampedSearch.Squares(fit.Residuals(fit.Columns(motion, shapes)));
                best = sum < best.Sum ? (motion, sum) : best;
            }
        }

        return Refined(best.Motion);
    }

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

                var sum = DampedSearch.Squares(fit.Residuals(rows));
                best = sum < best.Sum ? (motion, sum) : best;
            }
        }

        return best.Motion;
    }

    private FittedCranking Refined(CrankMotion motion)
    {
        var share = Enumerable.Repeat(1.0, cylinders).ToArray();
        double[] steps = [1e-4, 1e-3, 1e-3, 1e-3, 1e-4, 0.01, 0.01];
        var most = 0.95 / fit.Highest;
        double[] low = [Math.Log(motion.Rate) - 0.2, -0.5, -0.5, 0, motion.Phase - 0.5, Math.Log(CrankMotion.ShortestLag), Math.Log(4)];
        double[] high = [Math.Log(motion.Rate) + 0.2, 0.5, 0.5, most, motion.Phase + 0.5, Math.Log(CrankMotion.LongestLag), Math.Log(20)];
        FittedCranking? fitted = null;
        for (var round = 0; round < 4; round++)
        {
            double[][] Shapes(double ratio)
            {
                var shape = new CompressionShape(ratio);
                return [.. share.Select(shape.For)];
            }

            double[] Residuals(double[] u) => CrankMotion.Of(u) is var m ? fit.Residuals(fit.Columns(m, Shapes(m.Ratio))) : [];
            motion = CrankMotion.Of(DampedSearch.Least(Residuals, motion.Unknowns, steps, low, high, round == 0 ? 25 : 8));
            fitted = FittedCranking.Of(fit, motion, Shapes(motion.Ratio), hertz);
            share = [.. fitted.Share.Select(s => Math.Clamp(s, 0, 1))];
        }

        return fitted!;
    }
}
