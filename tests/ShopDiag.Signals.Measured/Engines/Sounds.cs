namespace ShopDiag.Signals.Measured.Engines;

/// <summary>Small things done to samples.</summary>
internal static class Sounds
{
    /// <summary>A normal number.</summary>
    public static double Gauss(Random random) => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());

    /// <summary>Root mean square.</summary>
    public static double Rms(ReadOnlySpan<float> sound)
    {
        var sum = 0.0;
        foreach (var s in sound)
        {
            sum += (double)s * s;
        }

        return Math.Sqrt(sum / Math.Max(1, sound.Length));
    }

    /// <summary>Scales to a root mean square.</summary>
    public static void Level(Span<float> sound, double rms)
    {
        var factor = (float)(rms / Math.Max(1e-12, Rms(sound)));
        foreach (ref var s in sound)
        {
            s *= factor;
        }
    }

    /// <summary>Adds another sound at a level in decibels under <paramref name="reference"/>.</summary>
    public static void Add(Span<float> sound, Span<float> other, double reference, double db)
    {
        Level(other, reference * Math.Pow(10, db / 20));
        for (var i = 0; i < sound.Length; i++)
        {
            sound[i] += other[i];
        }
    }

    /// <summary>Butterworth high-pass of second order.</summary>
    public static void HighPass(Span<float> sound, int rate, double hz) => Filter(sound, rate, hz, 0.7071, (cos, alpha) => ((1 + cos) / 2, -(1 + cos), (1 + cos) / 2));

    /// <summary>Band-pass of second order with unit gain in the middle.</summary>
    public static void BandPass(Span<float> sound, int rate, double hz, double q) => Filter(sound, rate, hz, q, (_, alpha) => (alpha, 0, -alpha));

    /// <summary>A room: three late echoes that feed themselves, as long as the room takes to die away.</summary>
    public static void Room(float[] sound, int rate, Microphone microphone, int seed)
    {
        if (microphone.Room <= 0)
        {
            return;
        }

        var random = new Random(seed + 99);
        var dry = (float[])sound.Clone();
        foreach (var milliseconds in new[] { 11.0, 17, 23, 31, 41 })
        {
            var delay = (int)(milliseconds * (0.8 + (0.4 * random.NextDouble())) / 1000 * rate);
            var again = (float)Math.Pow(10, -3 * delay / (microphone.Room * rate));
            var echo = new float[sound.Length];
            for (var i = delay; i < sound.Length; i++)
            {
                echo[i] = dry[i - delay] + (again * echo[i - delay]);
                sound[i] += (float)(microphone.RoomShare / 2.2) * echo[i];
            }
        }
    }

    /// <summary>Holds the samples within what all but a tenth of a percent keep, less some decibels.</summary>
    public static void Clip(Span<float> sound, double db)
    {
        var sorted = sound.ToArray().Select(Math.Abs).Order().ToArray();
        var most = sorted[(int)(0.999 * (sorted.Length - 1))] * (float)Math.Pow(10, -db / 20);
        foreach (ref var s in sound)
        {
            s = Math.Clamp(s, -most, most);
        }
    }

    private static void Filter(Span<float> sound, int rate, double hz, double q, Func<double, double, (double B0, double B1, double B2)> shape)
    {
        var (sin, cos) = Math.SinCos(2 * Math.PI * hz / rate);
        var alpha = sin / (2 * q);
        var (b0, b1, b2) = shape(cos, alpha);
        double s1 = 0, s2 = 0, a0 = 1 + alpha;
        foreach (ref var s in sound)
        {
            var y = ((b0 * s) + s1) / a0;
            s1 = (b1 * s) + (2 * cos * y) + s2;
            s2 = (b2 * s) - ((1 - alpha) * y);
            s = (float)y;
        }
    }
}
