namespace ShopDiag.Signals.Waveforms.Teeth;

/// <summary>The kind of crank sensor.</summary>
public enum ToothSensor
{
    /// <summary>Variable reluctance: a swing for each tooth, larger the faster it goes; the tooth is where it falls through zero.</summary>
    Reluctance,

    /// <summary>Hall effect or magneto-resistive: a square wave; the tooth is where it rises.</summary>
    Hall,
}

/// <summary>Tooth times from the voltage of a crank sensor, finer than the samples by straight lines between them.</summary>
public static class ToothEdges
{
    /// <summary>A swing must reach this share of the swings before it, or it is noise.</summary>
    private const double ArmShare = 0.3;

    /// <summary>The size of the swings that is remembered fades by this share from tooth to tooth, so that a slowing engine is followed.</summary>
    private const double Fade = 0.2;

    /// <summary>
    /// Seconds from the first sample on, in order; few or none where the trace holds none. Samples that are not numbers are passed over. Throws <see cref="ArgumentOutOfRangeException"/>
    /// for a rate that is not above 0.
    /// </summary>
    public static double[] Find(ReadOnlySpan<float> samples, double sampleRate, ToothSensor sensor)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(sampleRate);
        var (low, middle, high) = Levels(samples);
        return !(high > low) ? [] : sensor switch
        {
            ToothSensor.Reluctance => Falls(samples, sampleRate, middle, (high - middle) / 2),
            ToothSensor.Hall => Rises(samples, sampleRate, (low + high) / 2, (high - low) / 5),
            _ => throw new InvalidOperationException($"Unknown sensor {sensor}."),
        };
    }

    /// <summary>The twentieth, the middle and the nineteenth twentieth of the samples in order; of a million at most.</summary>
    private static (double Low, double Middle, double High) Levels(ReadOnlySpan<float> samples)
    {
        var step = Math.Max(1, samples.Length / 1000000);
        var some = new List<float>();
        for (var i = 0; i < samples.Length; i += step)
        {
            if (float.IsFinite(samples[i]))
            {
                some.Add(samples[i]);
            }
        }

        some.Sort();
        return some.Count < 20 ? (0, 0, 0) : (some[some.Count / 20], some[some.Count / 2], some[some.Count * 19 / 20]);
    }

    private static double[] Falls(ReadOnlySpan<float> samples, double rate, double zero, double usual)
    {
        var times = new List<double>();
        var (peak, armed, swing) = (0.0, false, usual);
        for (var i = 1; i < samples.Length; i++)
        {
            var (a, b) = (samples[i - 1] - zero, samples[i] - zero);
            peak = Math.Max(peak, b);
            armed |= b > ArmShare * swing;
            if (armed && a > 0 && b <= 0)
            {
                times.Add((i - 1 + (a / (a - b))) / rate);
                swing = Math.Max(ArmShare * usual, swing + (Fade * (peak - swing)));
                (armed, peak) = (false, 0);
            }
        }

        return [.. times];
    }

    private static double[] Rises(ReadOnlySpan<float> samples, double rate, double middle, double apart)
    {
        var times = new List<double>();
        var (ready, crossed) = (false, double.NaN);
        for (var i = 1; i < samples.Length; i++)
        {
            var (a, b) = (samples[i - 1] - middle, samples[i] - middle);
            if (a <= 0 && b > 0)
            {
                crossed = (i - 1 + (a / (a - b))) / rate;
            }

            if (ready && b > apart && !double.IsNaN(crossed))
            {
                times.Add(crossed);
                (ready, crossed) = (false, double.NaN);
            }

            ready |= b < -apart;
        }

        return [.. times];
    }
}
