using ShopDiag.Signals.Waveforms;

namespace ShopDiag.Signals.Tests.Waveforms;

/// <summary>Currents of windings, made by integrating their circuit in steps of a microsecond: V = iR + d(L i)/dt.</summary>
internal static class Currents
{
    private const double Step = 1e-6;

    /// <summary>A coil: <paramref name="henry"/> falls to a quarter above <paramref name="full"/> A; the driver holds at <paramref name="limit"/> A.</summary>
    public static double[] Coil(double volts, double ohm, double henry, double dwell, double limit = double.PositiveInfinity, double full = double.PositiveInfinity)
    {
        var current = new double[(int)Math.Round(dwell / Step)];
        for (var (k, i) = (0, 0.0); k < current.Length; k++)
        {
            current[k] = i;
            i = Math.Min(limit, i + (Step * (volts - (i * ohm)) / (i > full ? henry / 4 : henry)));
        }

        return current;
    }

    /// <summary>
    /// An injector: from <paramref name="leaves"/> to <paramref name="stops"/> its needle moves with constant acceleration and the inductance grows with its lift; a stuck one keeps its inductance.
    /// A driver that holds lets the current go at <paramref name="peak"/> and keeps it at <paramref name="hold"/>.
    /// </summary>
    public static double[] Injector(double volts, double ohm, double pulse, double leaves, double stops, bool stuck = false, double peak = double.PositiveInfinity, double hold = 0, double closed = 0.012)
    {
        var grows = closed / 2;
        var current = new double[(int)Math.Round(pulse / Step)];
        var (i, holding) = (0.0, false);
        for (var k = 0; k < current.Length; k++)
        {
            current[k] = i;
            var moving = stuck ? 0 : Math.Clamp(((k * Step) - leaves) / (stops - leaves), 0, 1);
            var henry = closed + (grows * moving * moving);
            var growth = moving is > 0 and < 1 ? 2 * grows * moving / (stops - leaves) : 0;
            holding |= i >= peak;
            var driven = !holding ? volts : i > hold * 1.03 ? -0.7 : i < hold * 0.97 ? volts : double.NaN;
            i += double.IsNaN(driven) ? 0 : Step * (driven - (i * ohm) - (i * growth)) / henry;
        }

        return current;
    }

    /// <summary>So many pulses with rest between, sampled, with the current dying away in <paramref name="fall"/> s and noise of so many amps.</summary>
    public static Waveform Recorded(double[] pulse, int pulses, double rate, double noise, int seed, double fall = 20e-6, double rest = 8e-3, string? unit = "A", double factor = 1)
    {
        var random = new Random(seed);
        double[] one = [.. new double[(int)(rest / Step)], .. pulse, .. Enumerable.Range(0, (int)(6 * fall / Step)).Select(k => pulse[^1] * Math.Exp(-k * Step / fall))];
        var length = (int)(((pulses * one.Length * Step) + rest) * rate);
        var samples = new float[length];
        for (var n = 0; n < length; n++)
        {
            var k = (int)(n / rate / Step);
            samples[n] = (float)(factor * ((k < pulses * one.Length ? one[k % one.Length] : 0) + (noise * Normal(random))));
        }

        return new Waveform(rate, 0, [new WaveformChannel("clamp", unit, samples)]);
    }

    private static double Normal(Random random) => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
