using ShopDiag.Diagnosis.Statistics;
using ShopDiag.Signals.Transform;

namespace ShopDiag.Signals.Waveforms.Teeth;

/// <summary>Counts the firings that gave no work.</summary>
internal sealed record MisfireCount(int[] Misfires, bool[] Misfiring, double?[] WorkPercent, bool PairsUnsure)
{
    /// <summary>A firing this many standard deviations (from the median deviation within a cylinder) below the sound level is a misfire: of normal scatter, one in a thousand million goes that far.</summary>
    public const double Sigmas = 6;

    /// <summary>And it lies deeper than this share of the usual lost firing: what gave half is weak, not lost.</summary>
    private const double HalfLost = 0.5;

    /// <summary>Misfires in at least this share of the cycles, and two, make a misfiring cylinder.</summary>
    private const double LeastShare = 0.02;

    /// <summary>A companion pair lower than the others by more than teeth wrong by this share of their pitch can feign is lost as a pair: five times a usual error.</summary>
    private const double ToothShare = 0.1;

    public static MisfireCount Of(WorkCycles cycles, bool learnt, double pitch)
    {
        var n = cycles.Cylinders;
        double[] middles = [.. Enumerable.Range(0, n).Select(c => Middle.Of([.. cycles.Index.Select(i => i[c])]))];
        var sigma = Sigma(cycles, middles);
        var levels = learnt ? middles : n % 2 == 0 ? ByPairs(middles, Feigned(cycles, pitch)) : HalfOrders.Levels(cycles);
        var sound = Sound(levels);
        var work = cycles.Index.Select(i => i.Select((d, c) => d - middles[c] + levels[c] - sound).ToArray()).ToArray();
        work = Unshadowed(work, Below(work, -Sigmas * sigma));
        var depth = Depth(work, -Sigmas * sigma);
        var lost = Below(work, -Math.Max(Sigmas * sigma, HalfLost * (depth ?? 0)));
        int[] misfires = [.. Enumerable.Range(0, n).Select(c => lost.Count(l => l[c]))];
        var misfiring = misfires.Select(m => m >= 2 && m >= LeastShare * cycles.Count).ToArray();
        var scale = misfiring.Contains(true) ? depth : null;
        return new(
            misfires,
            misfiring,
            [.. Enumerable.Range(0, n).Select(c => scale is { } d ? 100 * (1 + (work.Average(w => w[c]) / d)) : (double?)null)],
            !learnt && n % 2 == 0 && Feigned(cycles, pitch) > 3 * sigma);
    }

    /// <summary>The level of the sound cylinders. Of three, two may be lost; of more, half.</summary>
    private static double Sound(double[] levels) => levels.Length == 3 ? levels.Max() : Robust.SoundLevel(levels);

    private static bool[][] Below(double[][] work, double bound) => [.. work.Select(w => w.Select(x => x < bound).ToArray())];

    /// <summary>
    /// With many cylinders a firing still works when the next one's turn has come, so a lost firing takes from the index of the one that follows. How much is read from the followers
    /// themselves and put back.
    /// </summary>
    private static double[][] Unshadowed(double[][] work, bool[][] lost)
    {
        var n = work[0].Length;
        var shadows = new List<double>();
        for (var i = 1; i < work.Length * n; i++)
        {
            var ((k, c), (j, b)) = (Math.DivRem(i, n), Math.DivRem(i - 1, n));

            // A follower that is lost by itself would pass for a deep shadow.
            if (lost[j][b] && work[k][c] > 0.6 * work[j][b])
            {
                shadows.Add(work[k][c] / work[j][b]);
            }
        }

        var share = shadows.Count == 0 ? 0 : Math.Clamp(Middle.Of([.. shadows]), 0, 0.5);
        return [.. work.Select((w, k) => w.Select((x, c) => x - (share * Before(work, k, c))).ToArray())];
    }

    private static double Before(double[][] work, int cycle, int place) =>
        place > 0 ? work[cycle][place - 1] : cycle > 0 ? work[cycle - 1][^1] : 0;

    /// <summary>How deep a lost firing lies: among all that lie deep, the upper quartile, since the half may be shadows.</summary>
    private static double? Depth(double[][] work, double bound)
    {
        double[] deep = [.. work.SelectMany(w => w).Where(w => w < bound).Order()];
        return deep.Length == 0 ? null : -deep[deep.Length / 4];
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
