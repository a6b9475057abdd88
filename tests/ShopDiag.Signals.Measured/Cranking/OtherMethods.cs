using ShopDiag.Diagnosis.Statistics;
using ShopDiag.Signals.Waveforms.Cranking;

namespace ShopDiag.Signals.Measured.Cranking;

/// <summary>Simpler ways to read the same humps, at the angles that the model found: what the model is worth beside them.</summary>
internal static class OtherMethods
{
    /// <summary>Height of each hump: the highest current from 60 degrees before top dead centre to 30 after, less the lowest of the whole stretch.</summary>
    public static double[] Heights(CrankingStretch stretch, FittedCranking fitted)
    {
        var lowest = stretch.Current.Min();
        return Medians(fitted, c => Window(stretch.Current, fitted, c, -60, 30).Max() - lowest);
    }

    /// <summary>Highest less lowest of the torque, current + lag x its slope, about each top dead centre.</summary>
    public static double[] Torque(CrankingStretch stretch, FittedCranking fitted)
    {
        var current = stretch.Current;
        double[] torque = [.. current.Select((a, i) => a + (fitted.Lag * CrankingStretch.Hertz * (i == 0 || i + 1 == current.Length ? 0 : (current[i + 1] - current[i - 1]) / 2)))];
        var half = 360.0 / fitted.Share.Length;
        return Medians(fitted, c => Window(torque, fitted, c, -half, half) is var w ? w.Max() - w.Min() : 0);
    }

    /// <summary>The same shape for all cylinders, fitted together through the lag, without a clutch and without leaks.</summary>
    public static double[] Templates(CrankingStretch stretch, FittedCranking fitted)
    {
        var n = fitted.Share.Length;
        var fit = new CompressionFit(stretch.Current, CrankingStretch.Hertz, n);
        var (_, factors, _) = new MotionSearch(fit, CrankingStretch.Hertz, n).Linear(fitted.CyclesInAll * CrankingStretch.Hertz / (stretch.Current.Length - 1))[0];
        return factors[..n];
    }

    /// <summary>In firing order from any start; as shares of the sound level, turned so that they fit the truth best.</summary>
    public static double[] Turned(double[] read, double[] truth)
    {
        var level = Robust.SoundLevel(read);
        return Enumerable.Range(0, read.Length).Select(t => read.Select((_, i) => read[(i + t) % read.Length] / level).ToArray()).MinBy(r => r.Zip(truth, (a, b) => Math.Abs(a - b)).Sum())!;
    }

    private static double[] Medians(FittedCranking fitted, Func<double, double> of)
    {
        var n = fitted.Share.Length;
        return [.. Enumerable.Range(0, n).Select(c => Robust.Median(
            Enumerable.Range((int)fitted.Cycles[0] - 1, (int)fitted.CyclesInAll + 3).Select(k => k + ((double)c / n)).Where(a => a - 0.15 > fitted.Cycles[0] && a + 0.15 < fitted.Cycles[^1]).Select(of)))];
    }

    private static double[] Window(double[] values, FittedCranking fitted, double top, double from, double to) =>
        [.. values.Where((_, i) => fitted.Cycles[i] >= top + (from / 720) && fitted.Cycles[i] <= top + (to / 720))];
}
