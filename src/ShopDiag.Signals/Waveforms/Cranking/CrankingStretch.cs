namespace ShopDiag.Signals.Waveforms.Cranking;

/// <summary>The part of a trace in which the starter turns the engine steadily: after the inrush, before the key is let go.</summary>
internal sealed record CrankingStretch
{
    /// <summary>Samples a second that the trace is brought to.</summary>
    public const double Hertz = 250;

    /// <summary>Brush ripple and noise lie above, humps below; hertz.</summary>
    private const double Corner = 50;

    /// <summary>The inrush, and the first turn that the starter only just makes, seconds.</summary>
    private const double Inrush = 0.55;

    /// <summary>Humps are never further apart than twice this, seconds.</summary>
    private const double Reach = 0.3;

    /// <summary>Below this share of the way from rest to the humps' tops the starter is off.</summary>
    private const double OffShare = 0.3;

    /// <summary>More than this is not needed and costs time, seconds.</summary>
    private const double Longest = 8;

    /// <summary>Why there is none; null when there is one.</summary>
    public string? Problem { get; private init; }

    /// <summary>The trace at <see cref="Hertz"/>, rising where the starter works harder.</summary>
    public double[] Current { get; private init; } = [];

    /// <summary>Seconds from the waveform's first sample to the stretch's.</summary>
    public double From { get; private init; }

    public static CrankingStretch Find(float[] samples, double rate, CrankingSignal signal)
    {
        if (rate < 4 * Corner)
        {
            return new() { Problem = FormattableString.Invariant($"The trace has only {rate:0.#} samples a second: 200 at least, better 1000 or more.") };
        }

        var all = LowPass.Read(samples, rate, Corner, Hertz);
        var sign = signal == CrankingSignal.BatteryVoltage ? -1 : 1;
        var trace = all.Select(v => sign * v).ToArray();
        if (trace.Count(double.IsFinite) < 1.5 * Hertz)
        {
            return new() { Problem = "The trace is too short: crank for five seconds or more." };
        }

        var (from, to) = Cranked(trace);
        if (to - from > Longest * Hertz)
        {
            to = from + (int)(Longest * Hertz);
        }

        if (to - from < 0.6 * Hertz)
        {
            return new() { Problem = "The trace shows no cranking that lasts: crank for five seconds or more." };
        }

        var used = trace[from..to];
        if (used.Any(v => !double.IsFinite(v)))
        {
            return new() { Problem = "Samples are missing in the middle of the cranking." };
        }

        return Clipped(samples.AsSpan((int)(from / Hertz * rate)..(int)(to / Hertz * rate)), sign)
            ? new() { Problem = "The tops of the humps are cut off: choose a larger range on the oscilloscope." }
            : new() { Current = used, From = from / Hertz };
    }

    /// <summary>The longest run in which a hump is never far; the inrush cut from its front where it begins with one.</summary>
    private static (int From, int To) Cranked(double[] trace)
    {
        var sorted = trace.Where(double.IsFinite).Order().ToArray();
        var (rest, top) = (sorted[sorted.Length / 50], sorted[(int)(sorted.Length * 0.85)]);
        var off = rest + (OffShare * (top - rest));
        var reach = (int)(Reach * Hertz);
        var (best, since, last) = ((From: 0, To: 0), -1, int.MinValue / 2);
        for (var i = 0; i <= trace.Length; i++)
        {
            var on = i < trace.Length && (trace[i] > off || double.IsNaN(trace[i]));
            if (i == trace.Length || (!on && i - last > 2 * reach && since >= 0))
            {
                best = since >= 0 && last - since > best.To - best.From ? (since, last) : best;
                since = -1;
            }
            else if (on)
            {
                since = since < 0 ? i : since;
                last = i;
            }
        }

        var begins = Enumerable.Range(best.From, Math.Max(0, Math.Min((int)(0.4 * Hertz), best.To - best.From))).Select(i => trace[i]).DefaultIfEmpty(0).Max();
        var later = Enumerable.Range((best.From + best.To) / 2, Math.Max(0, (best.To - best.From) / 2)).Select(i => trace[i]).DefaultIfEmpty(0).Max();
        var inrush = best.From > 0.02 * Hertz || begins - rest > 1.4 * (later - rest) ? (int)(Inrush * Hertz) : 0;
        return (best.From + inrush, Math.Min(trace.Length, best.To - (int)(0.04 * Hertz)));
    }

    /// <summary>A range that ends below the humps heaps samples on its last value; a hump alone does not.</summary>
    private static bool Clipped(ReadOnlySpan<float> samples, int sign)
    {
        var (low, high) = (double.MaxValue, double.MinValue);
        foreach (var sample in samples)
        {
            low = sample * sign < low ? sample * sign : low;
            high = sample * sign > high ? sample * sign : high;
        }

        // The next value down, at least half a percent of the range away, with all that lies as close below it.
        var (width, next) = (0.005 * (high - low), double.MinValue);
        foreach (var sample in samples)
        {
            next = sample * sign < high - width && sample * sign > next ? sample * sign : next;
        }

        var (top, below) = (0, 0);
        foreach (var sample in samples)
        {
            top += sample * sign >= high - width ? 1 : 0;
            below += sample * sign <= next && sample * sign >= next - width ? 1 : 0;
        }

        return top > 0.03 * samples.Length && top > 4 * below;
    }
}
