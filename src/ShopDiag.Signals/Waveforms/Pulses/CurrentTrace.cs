using System.Collections.Immutable;
using ShopDiag.Diagnosis;
using ShopDiag.Signals.Transform;

namespace ShopDiag.Signals.Waveforms.Pulses;

/// <summary>A current made ready to look for pulses: in amps where that can be known, upright, at a rate that shows all there is.</summary>
internal sealed record CurrentTrace(float[] Samples, double Rate, double StartSeconds, double Base, double Range, double Noise, bool InAmps, ImmutableArray<string> Remarks)
{
    /// <summary>Below this a hump of 0.1 ms and a limiter's corner cannot be seen. Our own choice.</summary>
    public const double LowestRate = 10_000;

    /// <summary>Above this nothing more is to be seen in a winding's current; samples are averaged to about this.</summary>
    private const double UsefulRate = 500_000;

    /// <summary>Pulses stand out of the noise at least this much.</summary>
    private const double LeastOverNoise = 6;

    private const int SamplesSorted = 200_000;

    /// <summary>Makes it ready; the error says why nothing can be seen.</summary>
    public static Parsed<CurrentTrace> Of(Waveform waveform, CurrentOptions options)
    {
        if (options.Channel < 1 || options.Channel > waveform.Channels.Count)
        {
            return new InputError("channel", $"There is no channel {options.Channel}: the file has {waveform.Channels.Count}.");
        }

        if (waveform.SampleRate < LowestRate)
        {
            return new InputError("rate", FormattableString.Invariant($"{waveform.SampleRate:0} samples a second are too few for the current of a winding: record {LowestRate / 1000:0} 000 at least."));
        }

        var channel = waveform.Channels[options.Channel - 1];
        var (factor, inAmps, said) = Scale(channel.Unit, options.AmpsPerVolt);
        var every = Math.Max(1, (int)(waveform.SampleRate / UsefulRate));
        var samples = Averaged(channel.Samples, every, factor);
        float[] sorted = [.. Thinned(samples).Where(s => !float.IsNaN(s)).Order()];
        if (sorted.Length < 100)
        {
            return new InputError("channel", $"{channel.Name} has too few samples with a value.");
        }

        var turned = IsUpsideDown(sorted);
        if (turned)
        {
            samples = Array.ConvertAll(samples, s => -s);
            sorted = [.. sorted.Select(s => -s).Reverse()];
            said = said.Add("The current runs downwards; it was turned over. The clamp sits the other way round on the wire.");
        }

        var (low, high) = (At(sorted, 0.01), At(sorted, 0.999));
        var rest = Middle.Of(sorted.Where(s => s < low + (0.2 * (high - low))).Select(s => (double)s).ToArray());
        var noise = NoiseOf(samples);
        return high - rest < LeastOverNoise * noise || high <= rest
            ? new InputError("channel", $"{channel.Name} shows no pulses that stand out of its noise.")
            : new CurrentTrace(samples, waveform.SampleRate / every, waveform.StartSeconds, rest, high - rest, noise, inAmps, said);
    }

    private static (double Factor, bool InAmps, ImmutableArray<string> Said) Scale(string? unit, double? ampsPerVolt)
    {
        var known = WaveformUnit.TryParse(unit, out var factor, out var basic);
        return (known, basic, ampsPerVolt) switch
        {
            (true, "A", _) => (factor, true, []),
            (_, _, { } clamp) => (factor * clamp, true, []),
            (true, "V", null) => (factor, false, ["The channel is in volts: state the clamp's amps a volt to have currents. Times are right without."]),
            _ => (1, true, ["The channel has no unit; its numbers were taken for amps."]),
        };
    }

    private static float[] Averaged(float[] samples, int every, double factor)
    {
        var mean = new float[samples.Length / every];
        for (var i = 0; i < mean.Length; i++)
        {
            var sum = 0.0;
            for (var k = i * every; k < (i + 1) * every; k++)
            {
                sum += samples[k];
            }

            mean[i] = (float)(sum * factor / every);
        }

        return mean;
    }

    private static IEnumerable<float> Thinned(float[] samples)
    {
        var stride = Math.Max(1, samples.Length / SamplesSorted);
        for (var i = 0; i < samples.Length; i += stride)
        {
            yield return samples[i];
        }
    }

    /// <summary>Rest is where most of the time is spent; pulses are on the side that reaches further from it.</summary>
    private static bool IsUpsideDown(float[] sorted)
    {
        // The narrowest half of all samples holds the rest.
        var half = sorted.Length / 2;
        var narrowest = Enumerable.Range(0, sorted.Length - half).MinBy(i => sorted[i + half] - sorted[i]);
        var rest = sorted[narrowest + (half / 2)];
        return rest - At(sorted, 0.001) > At(sorted, 0.999) - rest;
    }

    private static float At(float[] sorted, double share) => sorted[(int)(share * (sorted.Length - 1))];

    /// <summary>From second differences, which neither a slope nor a level moves.</summary>
    private static double NoiseOf(float[] samples)
    {
        var stride = Math.Max(1, samples.Length / SamplesSorted);
        var second = new List<double>();
        for (var i = 1; i + 1 < samples.Length; i += stride)
        {
            var d = samples[i + 1] - (2 * samples[i]) + samples[i - 1];
            if (!float.IsNaN(d))
            {
                second.Add(Math.Abs(d));
            }
        }

        return second.Count == 0 ? 0 : 1.4826 * Middle.Of(second.ToArray()) / Math.Sqrt(6);
    }
}
