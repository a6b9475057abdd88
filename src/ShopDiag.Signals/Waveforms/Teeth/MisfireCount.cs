using ShopDiag.Diagnosis.Statistics;
using ShopDiag.Signals.Transform;

namespace ShopDiag.Signals.Waveforms.Teeth;

/// <summary>Counts the firings that gave no work.</summary>
internal sealed record MisfireCount(int[] Misfires, bool[] Misfiring, double?[] WorkPercent, bool PairsUnsure)
{
    /// <summary>A firing this many standard deviations (from the median deviation within a cylinder) below the sound level is a misfire: of normal scatter, one in a thousand million goes that far.</summary>
    public const double Sigmas = 6;

    /// <summary>Misfires in at least this share of the cycles, and two, make a misfiring cylinder.</summary>
    private const double LeastShare = 0.02;

    /// <summary>A companion pair lower than the others by more than teeth wrong by this share of their pitch can feign is lost as a pair.</summary>
    private const double ToothShare = 0.05;

    public static MisfireCount Of(WorkCycles cycles, bool learnt, double pitch)
    {
        var n = cycles.Cylinders;
        double[] middles = [.. Enumerable.Range(0, n).Select(c => Middle.Of([.. cycles.Index.Select(i => i[c])]))];
        var sigma = Sigma(cycles, middles);
        var levels = learnt ? middles : n % 2 == 0 ? ByPairs(middles, Feigned(cycles, pitch)) : HalfOrders.Levels(cycles);
        var sound = Robust.SoundLevel(levels);
        double Work(int k, int c) => cycles.Index[k][c] - middles[c] + levels[c] - sound;
        var lost = Enumerable.Range(0, n).Select(c => Enumerable.Range(0, cycles.Count).Select(k => Work(k, c)).Where(w => w < -Sigmas * sigma).ToArray()).ToArray();
        var misfiring = lost.Select(l => l.Length >= 2 && l.Length >= LeastShare * cycles.Count).ToArray();
        var depths = lost.Where((_, c) => misfiring[c]).SelectMany(l => l).ToArray();
        double? depth = depths.Length > 0 ? -Middle.Of(depths) : null;
        return new(
            [.. lost.Select(l => l.Length)],
            misfiring,
            [.. Enumerable.Range(0, n).Select(c => depth is { } d ? 100 * (1 + (Enumerable.Range(0, cycles.Count).Average(k => Work(k, c)) / d)) : (double?)null)],
            !learnt && n % 2 == 0 && Feigned(cycles, pitch) > 3 * sigma);
    }

    /// <summary>The scatter within a cylinder: the middle one of all, so that a misfiring cylinder's own does not count.</summary>
    private static double Sigma(WorkCycles cycles, double[] middles) =>
        Middle.Of([.. Enumerable.Range(0, middles.Length).Select(c => Robust.Sigma(cycles.Index.Select(i => i[c])))]);

    /// <summary>What teeth that are wrong may feign of an index: the error of the window's two ends, twice, since an index is a difference.</summary>
    private static double Feigned(WorkCycles cycles, double pitch) =>
        2 * cycles.SpeedSquare * 2 * ToothShare * pitch / (720.0 / cycles.Cylinders / 2);

    /// <summary>
    /// Cylinders 360 degrees apart share their teeth, so only their difference is free of the teeth's errors. The better of each pair is taken as sound, unless the pair lies lower
    /// than the teeth can feign.
    /// </summary>
    private static double[] ByPairs(double[] middles, double feigned)
    {
        var half = middles.Length / 2;
        double[] better = [.. Enumerable.Range(0, half).Select(p => Math.Max(middles[p], middles[p + half]))];
        var level = Robust.SoundLevel(better);
        return [.. middles.Select((m, c) => better[c % half] is var b && b < level - feigned ? m - level : m - b)];
    }
}
