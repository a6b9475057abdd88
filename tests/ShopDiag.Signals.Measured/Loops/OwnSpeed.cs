namespace ShopDiag.Signals.Measured.Loops;

/// <summary>
/// The speed at which a loop was recorded, from its likeness to itself (autocorrelation). Nothing of the library is used, so that its errors cannot hide in the truth. The working cycle is the
/// shortest lag that repeats well and holds as many evenly spaced firings as the engine has cylinders.
/// </summary>
/// <param name="From">First second of the steadiest stretch, the one that is used.</param>
/// <param name="To">Its end, seconds.</param>
/// <param name="CycleSeconds">Duration of a working cycle, two turns of the crank.</param>
/// <param name="Likeness">How like a cycle is to the next, 1 for the same.</param>
internal sealed record OwnSpeed(double From, double To, double CycleSeconds, double Likeness)
{
    /// <summary>Below this the loop is not steady enough for its speed to be known: fixed before anything was measured.</summary>
    public const double LeastLikeness = 0.5;

    /// <summary>Speeds among which it is looked for, rpm: idle to the highest of a road car.</summary>
    private const double Slowest = 600;
    private const double Fastest = 9000;

    /// <summary>A loop's speed need only be steady for so long, seconds.</summary>
    private const double Stretch = 2;

    /// <summary>Twice the cycle repeats as well as the cycle: the shortest lag that does nearly as well as the best is meant.</summary>
    private const double NearlyAsGood = 0.95;

    public double Rpm => 120 / CycleSeconds;

    /// <summary>Finds it; null where nothing repeats.</summary>
    public static OwnSpeed? Of(EngineLoop loop)
    {
        var all = loop.Samples.Length / (double)loop.Rate;
        var stretches = new List<OwnSpeed>();
        for (var from = 0.0; from == 0 || from + Stretch <= all; from += Stretch / 4)
        {
            var to = Math.Min(all, from + Stretch);
            var samples = loop.Samples.AsSpan((int)(from * loop.Rate), (int)((to - from) * loop.Rate));
            if (Cycle(Fewer(samples, loop.Rate, out var rate), rate, loop.Cylinders) is { } cycle)
            {
                stretches.Add(new(from, to, cycle.Seconds, cycle.Likeness));
            }
        }

        return stretches.MaxBy(s => s.Likeness);
    }

    private static (double Seconds, double Likeness)? Cycle(float[] sound, double rate, int cylinders)
    {
        var likeness = Likenesses(sound, (int)Math.Min(4 * 120 / Slowest * rate, 0.7 * sound.Length));
        var cycles = new List<(double Lag, double Score)>();
        for (var lag = (int)(120 / Fastest * rate); lag < Math.Min(120 / Slowest * rate, likeness.Length - 1); lag++)
        {
            if (likeness[lag] > likeness[lag - 1] && likeness[lag] >= likeness[lag + 1])
            {
                var peak = Peak(likeness, lag);
                cycles.Add((peak, Enumerable.Range(1, cylinders).Average(k => At(likeness, k * peak / cylinders))));
            }
        }

        if (cycles.Count == 0)
        {
            return null;
        }

        var best = cycles.Max(c => c.Score);
        var cycle = cycles.First(c => c.Score >= NearlyAsGood * best).Lag;
        return (Finer(likeness, cycle) / rate, At(likeness, cycle));
    }

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
