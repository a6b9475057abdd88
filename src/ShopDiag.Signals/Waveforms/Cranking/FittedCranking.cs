using ShopDiag.Diagnosis.Statistics;
using ShopDiag.Signals.Transform;

namespace ShopDiag.Signals.Waveforms.Cranking;

/// <summary>A cranking explained: the motion, the pressures in firing order from the position that stands at cycle 0, and how well.</summary>
internal sealed record FittedCranking
{
    public required CrankMotion Motion { get; init; }

    /// <summary>Pressure as a share of the level of the sound ones.</summary>
    public required double[] Share { get; init; }

    /// <summary>Standard error of each share, from leaving out one cycle after the other.</summary>
    public required double[] Error { get; init; }

    public required double R2 { get; init; }

    /// <summary>Working cycles at each sample.</summary>
    public required double[] Cycles { get; init; }

    public static FittedCranking Of(CompressionFit fit, CrankMotion motion, double[][] shapes, double hertz)
    {
        var cylinders = shapes.Length;
        var rows = fit.Columns(motion, shapes);
        var cycles = motion.Cycles(fit.Current, hertz);
        var parts = fit.ByCycle(rows, cycles);
        var whole = parts.Aggregate((a, b) => a.With(b, 1));
        double[] Shares(NormalEquations e)
        {
            var pressures = e.Solve()[..cylinders];
            var level = Robust.SoundLevel(pressures);
            return [.. pressures.Select(p => level > 0 ? p / level : 0)];
        }

        var all = Shares(whole);
        var without = parts.Select(p => Shares(whole.With(p, -1))).ToArray();
        return new()
        {
            Motion = motion,
            Share = all,
            Error = [.. Enumerable.Range(0, cylinders).Select(c => Jackknife([.. without.Select(w => w[c])]))],
            R2 = fit.Explained(fit.Residuals(rows)),
            Cycles = cycles,
        };
    }

    /// <summary>Tukey's standard error from the answers with one part left out.</summary>
    private static double Jackknife(double[] without)
    {
        var mean = without.Average();
        return Math.Sqrt((without.Length - 1.0) / without.Length * without.Sum(w => (w - mean) * (w - mean)));
    }
}
