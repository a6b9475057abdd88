namespace ShopDiag.Signals.Measured.Loops;

/// <summary>
/// The speed at which a loop was recorded, from its likeness to itself (autocorrelation). Nothing of the library is used, so that its errors cannot hide in the truth. The working cycle is a
/// lag after which the sound repeats and that holds as many evenly spaced pulses as the engine has cylinders. Where only some of the firings are heard, or all are alike, it may be a simple multiple of the true one;
/// for the measurement only matters that so many pulses fill a period.
/// </summary>
/// <param name="From">First second of the stretch in which the pulses are clearest, the one that is used.</param>
/// <param name="To">Its end, seconds.</param>
/// <param name="CycleSeconds">Duration of a working cycle, two turns of the crank.</param>
/// <param name="Likeness">How like a cycle is to the next, 1 for the same.</param>
/// <param name="Pulses">How far the sound is liker to itself after each whole firing than between two firings, 0 to 2.</param>
/// <param name="Drift">By what share its second half is slower or faster than its first: the truth is known no better than to half of this.</param>
internal sealed record OwnSpeed(double From, double To, double CycleSeconds, double Likeness, double Pulses, double Drift)
{
    /// <summary>Below this the loop is not steady enough for its speed to be known.</summary>
    private const double LeastLikeness = 0.5;

    /// <summary>Below this so many firings cannot be told in a cycle, and the speed may be wrong by a simple fraction. Of the loops that were tried most are well above or well below.</summary>
    private const double LeastPulses = 0.5;

    /// <summary>Speeds among which it is looked for, rpm: idle to the highest of a road car.</summary>
    private const double Slowest = 600;
    private const double Fastest = 9000;

    /// <summary>A loop's speed need only be steady for so long, seconds.</summary>
    private const double Stretch = 2;

    /// <summary>A cycle repeats with this share of the best likeness at least.</summary>
    private const double RepeatsWell = 0.85;

    /// <summary>Three times the cycle does as well as the cycle: the shortest lag that does nearly as well as the best is meant.</summary>
    private const double NearlyAsGood = 0.9;

    public double Rpm => 120 / CycleSeconds;

    /// <summary>Whether the loop can be measured with.</summary>
    public bool Certain => Likeness >= LeastLikeness && Pulses >= LeastPulses;

    /// <summary>Finds it; null where nothing repeats.</summary>
    public static OwnSpeed? Of(EngineLoop loop)
    {
        var all = loop.Samples.Length / (double)loop.Rate;
        var stretches = new List<OwnSpeed>();
        for (var from = 0.0; from == 0 || from + Stretch <= all; from += Stretch / 4)
        {
            var to = Math.Min(all, from + Stretch);
            var sound = Fewer(loop.Samples.AsSpan((int)(from * loop.Rate), (int)((to - from) * loop.Rate)), loop.Rate, out var rate);
            if (Cycle(sound, rate, loop.Cylinders) is { } cycle)
            {
                stretches.Add(new(from, to, cycle.Seconds, cycle.Likeness, cycle.Pulses, Changed(sound, cycle.Seconds * rate)));
            }
        }

        return stretches.MaxBy(s => s.Pulses);
    }

    /// <summary>How the cycle of the second half differs from that of the first, each looked for near the whole's; not a number where a half holds too few cycles.</summary>
    private static double Changed(float[] sound, double cycle)
    {
        var (half, near) = (sound.Length / 2, (int)Math.Round(cycle));
        double In(float[] part)
        {
            var likeness = Likenesses(part, (int)Math.Min(4.5 * cycle, 0.7 * part.Length));
            var lags = Enumerable.Range((int)(0.97 * near), (int)(0.06 * near) + 2).Where(l => l < likeness.Length - 1).ToList();
            return lags.Count == 0 ? double.NaN : Finer(likeness, Peak(likeness, lags.MaxBy(l => likeness[l])));
        }

        return Math.Abs((In(sound[half..]) / In(sound[..half])) - 1);
    }

    private static (double Seconds, double Likeness, double Pulses)? Cycle(float[] sound, double rate, int cylinders)
    {
        var likeness = Likenesses(sound, (int)Math.Min(4 * 120 / Slowest * rate, 0.7 * sound.Length));
        var (from, to) = ((int)(120 / Fastest * rate), (int)Math.Min(120 / Slowest * rate, likeness.Length - 1));
        var tops = Enumerable.Range(from, Math.Max(0, to - from)).Where(l => likeness[l] > likeness[l - 1] && likeness[l] >= likeness[l + 1]).ToList();
        if (tops.Count == 0)
        {
            return null;
        }

        var least = RepeatsWell * tops.Max(l => likeness[l]);
        var cycles = tops.Where(l => likeness[l] >= least).Select(l => Peak(likeness, l)).Select(l => (Lag: l, Pulses: Contrast(likeness, l, cylinders))).ToList();
        var best = cycles.Max(c => c.Pulses);
        var cycle = cycles.First(c => c.Pulses >= Math.Min(best, NearlyAsGood * best));
        return (Finer(likeness, cycle.Lag) / rate, At(likeness, cycle.Lag), cycle.Pulses);
    }

    /// <summary>How far the sound is liker to itself after each whole firing than between two firings.</summary>
    private static double Contrast(double[] likeness, double cycle, int cylinders) =>
        Enumerable.Range(1, cylinders).Average(k => At(likeness, k * cycle / cylinders) - At(likeness, (k - 0.5) * cycle / cylinders));

    /// <summary>The lag of several cycles tells one cycle more finely; each is looked for where the one before says.</summary>
    private static double Finer(double[] likeness, double cycle)
    {
        for (var (times, first) = (2, At(likeness, cycle)); times * cycle < likeness.Length - 2 && times <= 8; times++)
        {
            var near = (int)Math.Round(times * cycle);
            var lag = Enumerable.Range(near - 2, 5).Where(l => l < likeness.Length - 1).MaxBy(l => likeness[l]);
            if (likeness[lag] < 0.7 * first || Math.Abs(lag - near) == 2)
            {
                break;
            }

            cycle = Peak(likeness, lag) / times;
        }

        return cycle;
    }

    /// <summary>Likeness of the sound to itself at each lag, -1 to 1.</summary>
    private static double[] Likenesses(float[] sound, int longest)
    {
        var likeness = new double[longest + 1];
        for (var lag = 0; lag <= longest; lag++)
        {
            var (product, first, second) = (0.0, 1e-12, 1e-12);
            for (var i = 0; i + lag < sound.Length; i++)
            {
                product += sound[i] * sound[i + lag];
                first += sound[i] * sound[i];
                second += sound[i + lag] * sound[i + lag];
            }

            likeness[lag] = product / Math.Sqrt(first * second);
        }

        return likeness;
    }

    /// <summary>Some 11,000 samples a second will do: means of neighbours.</summary>
    private static float[] Fewer(ReadOnlySpan<float> samples, int rate, out double fewer)
    {
        var by = Math.Max(1, rate / 11025);
        fewer = (double)rate / by;
        var few = new float[samples.Length / by];
        for (var i = 0; i < few.Length; i++)
        {
            few[i] = Mean(samples.Slice(i * by, by));
        }

        return few;
    }

    private static float Mean(ReadOnlySpan<float> samples)
    {
        var sum = 0f;
        foreach (var s in samples)
        {
            sum += s;
        }

        return sum / samples.Length;
    }

    private static double At(double[] values, double at)
    {
        var i = Math.Min((int)at, values.Length - 2);
        return values[i] + ((at - i) * (values[i + 1] - values[i]));
    }

    /// <summary>The top of the parabola through three neighbours.</summary>
    private static double Peak(double[] values, int at)
    {
        var (a, b, c) = (values[at - 1], values[at], values[at + 1]);
        return at + ((a - c) / (2 * (a - (2 * b) + c)));
    }
}
