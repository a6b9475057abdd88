using ShopDiag.Signals.Transform;

namespace ShopDiag.Signals.Speed;

/// <summary>
/// Frequencies at which something sounds that is no idling engine, second by second: a line narrower than a quarter hertz that stands for eight seconds. No piston engine at idle
/// holds its higher orders that still; hum, fans and compressors on the mains do. Without this a compressor inside the searched range took half of the moments (measured).
/// </summary>
internal sealed class SteadyLines
{
    /// <summary>Shorter recordings cannot show that something stands still.</summary>
    private const double LeastSeconds = 10;

    private const double WindowSeconds = 4;

    /// <summary>Spectra, one a second, that are looked at together.</summary>
    private const int Together = 8;

    /// <summary>In this share of them the line must stand out.</summary>
    private const double InShare = 0.8;

    /// <summary>Neper over the median of the neighbours.</summary>
    private const float Over = 1.8f;

    private const double NeighboursHz = 24;

    /// <summary>A machine shows by at least this many steady lines at multiples of one frequency; then its low multiples are taken out as well.</summary>
    private const int LinesOfMachine = 4;

    private readonly double[][] _bySecond;

    private SteadyLines(double[][] bySecond) => _bySecond = bySecond;

    /// <summary>No lines at all.</summary>
    public static SteadyLines None { get; } = new([]);

    /// <summary>The lines at a time, in hertz.</summary>
    public ReadOnlySpan<double> At(double seconds) =>
        _bySecond.Length == 0 ? [] : _bySecond[Math.Clamp((int)seconds, 0, _bySecond.Length - 1)];

    /// <summary>Looks for lines from <paramref name="fromHz"/> up in a band.</summary>
    public static SteadyLines In(Band band, double seconds, double fromHz, double toHz)
    {
        if (seconds < LeastSeconds)
        {
            return None;
        }

        var shape = Windows.Hann((int)(WindowSeconds * band.Rate));
        var fft = new RealFft(BitCeil(shape.Length));
        var hz = band.Rate / fft.Size;
        var (from, to) = ((int)(fromHz / hz), Math.Min((int)(toHz / hz), (fft.Size / 2) - 2));
        var loud = Loud(band, shape, fft, (int)seconds, from, to);
        return new([.. Enumerable.Range(0, loud.Length).Select(s => WithMultiples(Steady(loud, s, hz, from, to)))]);
    }

    /// <summary>For each second the bins that are peaks over their neighbours.</summary>
    private static bool[][] Loud(Band band, float[] shape, RealFft fft, int seconds, int from, int to)
    {
        var whitening = new Whitening((int)(NeighboursHz * fft.Size / band.Rate));
        var window = new float[shape.Length];
        var log = new float[fft.Size / 2];
        var loud = new bool[seconds][];
        for (var s = 0; s < seconds; s++)
        {
            band.Window(s + 0.5, window);
            for (var i = 0; i < window.Length; i++)
            {
                window[i] *= shape[i];
            }

            fft.Power(window, log);
            foreach (ref var value in log.AsSpan())
            {
                value = 0.5f * MathF.Log(value + 1e-18f);
            }

            whitening.Apply(log);
            loud[s] = [.. Enumerable.Range(from, Math.Max(0, to - from)).Select(k => log[k] > Over)];
        }

        return loud;
    }

    private static List<double> Steady(bool[][] loud, int second, double hz, int from, int to)
    {
        var first = Math.Clamp(second - (Together / 2), 0, Math.Max(0, loud.Length - Together));
        var last = Math.Min(first + Together, loud.Length);
        var lines = new List<double>();
        for (var k = 0; k < to - from; k++)
        {
            var count = 0;
            for (var s = first; s < last; s++)
            {
                count += loud[s][k] ? 1 : 0;
            }

            if (count >= InShare * (last - first))
            {
                // Neighbouring bins belong to one line.
                var at = (from + k) * hz;
                if (lines.Count > 0 && at - lines[^1] < 0.6)
                {
                    lines[^1] = (lines[^1] + at) / 2;
                }
                else
                {
                    lines.Add(at);
                }
            }
        }

        return lines;
    }

    /// <summary>Adds the low multiples of a machine whose high ones were found: they would hide among the engine's own.</summary>
    private static double[] WithMultiples(List<double> lines)
    {
        var machines = lines.Where(l => !IsMains(l)).ToList();
        var all = new List<double>(lines);
        foreach (var line in machines.Take(6))
        {
            for (var order = 2; order <= 8; order++)
            {
                var spacing = line / order;
                if (spacing is >= 8 and <= 60 && machines.Count(l => Near(l, spacing)) >= LinesOfMachine && Dense(machines, spacing))
                {
                    all.AddRange(Enumerable.Range(1, order - 1).Select(k => k * spacing));
                    return [.. all];
                }
            }
        }

        return [.. all];
    }

    /// <summary>Two thirds of the multiples between the first and the last must be there, or any spacing would fit.</summary>
    private static bool Dense(List<double> lines, double spacing)
    {
        var orders = lines.Where(l => Near(l, spacing)).Select(l => (int)Math.Round(l / spacing, MidpointRounding.AwayFromZero)).Distinct().ToList();
        return orders.Count >= LinesOfMachine && orders.Count >= 0.66 * (orders.Max() - orders.Min() + 1);
    }

    private static bool Near(double line, double spacing) => Math.Abs(line - (spacing * Math.Round(line / spacing, MidpointRounding.AwayFromZero))) < 0.25;

    private static bool IsMains(double line) => Math.Abs(line % 50) is < 0.4 or > 49.6 || Math.Abs(line % 60) is < 0.4 or > 59.6;

    private static int BitCeil(int value) => (int)System.Numerics.BitOperations.RoundUpToPowerOf2((uint)value);
}
