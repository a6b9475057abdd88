namespace ShopDiag.Signals.Waveforms.Pulses;

/// <summary>One stretch of current through a winding, from its switching on to its switching off, as amps over the rest level.</summary>
/// <param name="StartSeconds">When it is switched on, on the file's clock.</param>
/// <param name="Seconds">From on to off.</param>
/// <param name="Step">Seconds from one of <paramref name="Amps"/> to the next.</param>
/// <param name="First">Seconds from the switching on to the first of <paramref name="Amps"/>: less than a step.</param>
/// <param name="Amps">The current while it is on.</param>
internal sealed record Pulse(double StartSeconds, double Seconds, double Step, double First, double[] Amps)
{
    public double TimeOf(int index) => First + (index * Step);

    public int IndexOf(double seconds) => Math.Clamp((int)Math.Round((seconds - First) / Step), 0, Amps.Length - 1);
}

/// <summary>Finds the pulses of a current: it leaves rest, and falls back to it.</summary>
internal static class PulseFinder
{
    /// <summary>A pulse begins above this share of the range, so that a hold current of an eighth still belongs to it, and ends below <see cref="Off"/>.</summary>
    private const double On = 0.12;

    private const double Off = 0.06;

    /// <summary>Shorter ones are ringing. An injector's shortest and a coil's restrike take 0.2 ms and more (common practice).</summary>
    private const double ShortestSeconds = 0.15e-3;

    private const double LongestSeconds = 0.1;

    private const int FewestSamples = 12;

    /// <summary>Smoothing to find the edges, seconds at most.</summary>
    private const double LongestSmoothing = 60e-6;

    /// <summary>More than a minute's worth of a fast engine are not looked at.</summary>
    public const int MostPulses = 5000;

    public static IReadOnlyList<Pulse> Find(CurrentTrace trace)
    {
        var smooth = Smooth(trace);
        var pulses = new List<Pulse>();
        var (on, off) = (trace.Base + (On * trace.Range), trace.Base + (Off * trace.Range));

        // What runs when the recording starts has no beginning.
        var i = 0;
        while (i < smooth.Length && !(smooth[i] < off))
        {
            i++;
        }

        while (pulses.Count < MostPulses)
        {
            while (i < smooth.Length && !(smooth[i] > on))
            {
                i++;
            }

            var rise = i;
            while (i < smooth.Length && !(smooth[i] < off))
            {
                i++;
            }

            if (i >= smooth.Length)
            {
                return pulses;
            }

            if (PulseOf(trace, smooth, rise, i) is { } pulse)
            {
                pulses.Add(pulse);
            }
        }

        return pulses;
    }

    private static Pulse? PulseOf(CurrentTrace trace, float[] smooth, int rise, int fallen)
    {
        var start = Start(trace, smooth, rise);
        var end = End(trace, smooth, rise, fallen);
        var first = (int)Math.Ceiling(start);
        var seconds = (end - start) / trace.Rate;
        if (seconds is < ShortestSeconds or > LongestSeconds || end - first < FewestSamples)
        {
            return null;
        }

        double[] amps = [.. trace.Samples[first..(end + 1)].Select(s => s - trace.Base)];
        return Array.Exists(amps, double.IsNaN) ? null
            : new Pulse(trace.StartSeconds + (start / trace.Rate), seconds, 1 / trace.Rate, (first - start) / trace.Rate, amps);
    }

    /// <summary>Where a straight line through the foot of the rise meets the rest level, in samples.</summary>
    private static double Start(CurrentTrace trace, float[] smooth, int rise)
    {
        var (low, high) = (trace.Base + (0.03 * trace.Range), trace.Base + (0.2 * trace.Range));
        var from = rise;
        while (from > 0 && smooth[from - 1] > low)
        {
            from--;
        }

        var to = rise;
        while (to + 1 < smooth.Length && smooth[to + 1] > smooth[rise] && smooth[to] < high)
        {
            to++;
        }

        var (n, x, y, xx, xy) = (0, 0.0, 0.0, 0.0, 0.0);
        for (var k = from; k <= to; k++)
        {
            var level = trace.Samples[k] - trace.Base;
            (n, x, y, xx, xy) = (n + 1, x + (k - rise), y + level, xx + ((double)(k - rise) * (k - rise)), xy + ((k - rise) * level));
        }

        var slope = n < 2 ? 0 : ((n * xy) - (x * y)) / ((n * xx) - (x * x));
        var meets = slope > 0 ? rise + ((x / n) - (y / n / slope)) : from;
        return Math.Clamp(meets, Math.Max(0, from - (to - from) - 2), rise);
    }

    /// <summary>The last sample before the fall.</summary>
    private static int End(CurrentTrace trace, float[] smooth, int rise, int fallen)
    {
        var back = Math.Max(rise, fallen - Math.Max(4, Math.Min((fallen - rise) / 6, (int)(0.4e-3 * trace.Rate))));
        var level = smooth.AsSpan(back, fallen - back);
        var most = trace.Base;
        foreach (var s in level)
        {
            most = Math.Max(most, s);
        }

        var end = fallen;
        while (end > back && smooth[end] - trace.Base < 0.95 * (most - trace.Base))
        {
            end--;
        }

        return end;
    }

    private static float[] Smooth(CurrentTrace trace)
    {
        // Enough that the noise left is a fiftieth of the range.
        var wanted = Math.Pow(trace.Noise / (0.02 * trace.Range), 2);
        var reach = (int)Math.Min(wanted / 2, LongestSmoothing * trace.Rate / 2);
        if (reach == 0)
        {
            return trace.Samples;
        }

        var smooth = new float[trace.Samples.Length];
        var (sum, inside) = (0.0, 0);
        for (var entering = 0; entering < smooth.Length + reach; entering++)
        {
            if (entering < smooth.Length)
            {
                (sum, inside) = (sum + Level(entering), inside + 1);
            }

            var (middle, leaving) = (entering - reach, entering - (2 * reach) - 1);
            if (leaving >= 0)
            {
                (sum, inside) = (sum - Level(leaving), inside - 1);
            }

            if (middle >= 0)
            {
                smooth[middle] = (float)(sum / inside);
            }
        }

        return smooth;

        // A gap counts as rest: it cuts the pulse it is in, which is then left out.
        double Level(int i) => float.IsNaN(trace.Samples[i]) ? trace.Base : trace.Samples[i];
    }
}
