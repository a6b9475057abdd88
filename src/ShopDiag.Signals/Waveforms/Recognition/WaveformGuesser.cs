using ShopDiag.Signals.Waveforms.Coil;
using ShopDiag.Signals.Waveforms.Csv;
using ShopDiag.Signals.Waveforms.Injector;
using ShopDiag.Signals.Waveforms.Pulses;

namespace ShopDiag.Signals.Waveforms.Recognition;

/// <summary>Guesses what a recording shows from what its samples do; names of channels only decide where the samples leave two. The person can say otherwise.</summary>
public static class WaveformGuesser
{
    /// <summary>Cranking is no shorter and gives no faster humps: 50 to 400 rpm and up to 12 cylinders (common practice).</summary>
    private const double ShortestCranking = 0.7;

    private const double BlockSeconds = 4e-3;

    /// <summary>A starter takes 60 A and more; nothing else that is looked at here does (common practice).</summary>
    private const double StarterAmps = 40;

    /// <summary>Teeth pass at least so often, 1/s: 36 of them at 60 rpm.</summary>
    private const double SlowestTeeth = 35;

    private const int FewestTeeth = 30;

    /// <summary>Above this a winding's current is a coil's: injectors without hold end below 2 A, high-pressure ones peak and hold (common practice).</summary>
    private const double CoilAmps = 4;

    /// <summary>Guesses. Of several channels the first that shows anything counts.</summary>
    public static WaveformGuess Guess(WaveformFile file)
    {
        ArgumentNullException.ThrowIfNull(file);
        if (file.Waveform is not { } waveform)
        {
            return new(WaveformKind.ToothTimes, 0, $"The file holds {file.EventSeconds.Length} times and nothing else.");
        }

        for (var channel = 1; channel <= waveform.Channels.Count; channel++)
        {
            if (Of(waveform, channel) is { } guess)
            {
                return guess;
            }
        }

        return new(null, 0, "It shows neither the humps of cranking, nor the teeth of a wheel, nor pulses of a winding: say what it is.");
    }

    private static WaveformGuess? Of(Waveform waveform, int channel)
    {
        var own = waveform.Channels[channel - 1];
        var shape = ChannelShape.Of(own.Samples, waveform.SampleRate);
        if (shape is null)
        {
            return null;
        }

        var inAmps = WaveformUnit.TryParse(own.Unit, out var factor, out var basic) && basic == "A";
        if (Teeth(shape) && !inAmps)
        {
            return new(WaveformKind.CrankSensor, channel, FormattableString.Invariant(
                $"{own.Name} swings up and down {shape.SwingsPerSecond:0} times a second with even spaces: the teeth of a wheel."));
        }

        // Noise and the brushes' ripple move a finely sampled current more than its humps do; amps alone tell a starter.
        if (inAmps ? factor * shape.Range > StarterAmps && waveform.Seconds >= ShortestCranking : shape.LongestRun >= ShortestCranking && shape.SlowShare > 0.5)
        {
            return CrankAnalysis.IsBatteryVoltage(own)
                ? new(WaveformKind.CrankingCurrent, channel, $"{own.Name} is a voltage that falls and rises slowly: a battery's while a starter turns an engine over.")
                : new(WaveformKind.CrankingCurrent, channel, FormattableString.Invariant(
                $"{own.Name} moves over {shape.Range:0} {own.Unit} for {waveform.Seconds:0.0} s, more than any winding takes: a starter that turns an engine over."));
        }

        return Winding(waveform, channel, own);
    }

    private static bool Teeth(ChannelShape shape) => shape.Swings >= FewestTeeth && shape.SwingsPerSecond >= SlowestTeeth && shape.EvenShare > 0.7 && shape.HighShare is > 0.12 and < 0.88;

    private static WaveformGuess? Winding(Waveform waveform, int channel, WaveformChannel own)
    {
        var options = new CurrentOptions { Channel = channel };
        if (InjectorCurrent.Analyse(waveform, options) is not { IsValid: true } injector || CoilCurrent.Analyse(waveform, options) is not { IsValid: true } coil)
        {
            return null;
        }

        var (width, count) = (1e3 * coil.Value.Dwell!.Median, coil.Value.Pulses.Length);
        var pulses = FormattableString.Invariant($"{own.Name} has {count} {(count == 1 ? "pulse" : "pulses")} of {width:0.0} ms");
        var amps = coil.Value.Peak?.Median;
        var holds = injector.Value.Pulses.Count(p => p.PeakAndHold) > injector.Value.Pulses.Length / 2;
        return (holds, injector.Value.Hump, coil.Value.End) switch
        {
            (true, _, _) => new(WaveformKind.InjectorCurrent, channel, pulses + " that peak and are then held at a lower current: an injector with a driver that holds."),
            (_, _, CoilEnd.Limited) => new(WaveformKind.CoilCurrent, channel, pulses + " that end in a limited current: an ignition coil."),
            (_, OpeningHump.Present, _) when amps is null or < CoilAmps => new(WaveformKind.InjectorCurrent, channel, pulses + " whose rise pauses once, as when a needle moves: an injector."),
            (_, _, CoilEnd.Saturated) => new(WaveformKind.CoilCurrent, channel, pulses + " that rise faster at their end: an ignition coil."),
            (_, _, _) when amps >= CoilAmps => new(WaveformKind.CoilCurrent, channel, pulses + FormattableString.Invariant($" that rise to {amps:0.0} A: an ignition coil.")),
            (_, _, _) when ByName(own.Name) is { } named => new(named, channel, pulses + $", and the channel's name says {(named == WaveformKind.CoilCurrent ? "coil" : "injector")}."),
            (_, _, CoilEnd.Settled) => new(WaveformKind.InjectorCurrent, channel, pulses + " that settle at a current: an injector whose needle does not show."),
            _ when amps is not null => new(WaveformKind.InjectorCurrent, channel, pulses + FormattableString.Invariant($" that rise to {amps:0.0} A only: an injector rather than a coil.")),
            _ => new(WaveformKind.CoilCurrent, channel, pulses + " with an unbroken rise: an ignition coil rather than an injector. Say otherwise if it is one."),
        };
    }

    private static WaveformKind? ByName(string name) => name.ToLowerInvariant() switch
    {
        var n when n.Contains("inj", StringComparison.Ordinal) => WaveformKind.InjectorCurrent,
        var n when n.Contains("coil", StringComparison.Ordinal) || n.Contains("ign", StringComparison.Ordinal) || n.Contains("prim", StringComparison.Ordinal) => WaveformKind.CoilCurrent,
        _ => null,
    };

    /// <summary>What a channel does, in a few figures.</summary>
    private sealed record ChannelShape(double Range, int Swings, double SwingsPerSecond, double EvenShare, double HighShare, double LongestRun, double SlowShare)
    {
        public static ChannelShape? Of(float[] samples, double rate)
        {
            var stride = Math.Max(1, samples.Length / 200_000);
            float[] sorted = [.. samples.Where((s, i) => i % stride == 0 && !float.IsNaN(s)).Order()];
            if (sorted.Length < 16 || sorted[^1] <= sorted[0])
            {
                return null;
            }

            var (low, high) = (sorted[(int)(0.002 * (sorted.Length - 1))], sorted[(int)(0.998 * (sorted.Length - 1))]);
            var range = high - low;
            if (range <= 0)
            {
                return null;
            }

            var (swings, active, even, highShare) = Swing(samples, rate, (low + high) / 2.0, range);
            var (run, slow) = Blocks(samples, rate, low, range);
            return new(range, swings, active > 0 ? swings / active : 0, even, highShare, run, slow);
        }

        /// <summary>Rises through the middle that come from well below and reach well above.</summary>
        private static (int Swings, double ActiveSeconds, double EvenShare, double HighShare) Swing(float[] samples, double rate, double middle, double range)
        {
            var rises = new List<int>();
            var (below, high, there) = (false, 0, 0);
            for (var i = 0; i < samples.Length; i++)
            {
                var s = samples[i] - middle;
                there += float.IsNaN(samples[i]) ? 0 : 1;
                high += s > 0 ? 1 : 0;
                if (s < -0.15 * range)
                {
                    below = true;
                }
                else if (s > 0.15 * range && below)
                {
                    below = false;
                    rises.Add(i);
                }
            }

            var even = 0;
            for (var k = 2; k < rises.Count; k++)
            {
                var ratio = (double)(rises[k] - rises[k - 1]) / (rises[k - 1] - rises[k - 2]);
                even += ratio is > 0.6 and < 1.67 ? 1 : 0;
            }

            // Over the time that they take, without what stands still before and after.
            var active = rises.Count < 2 ? 0 : (rises[^1] - rises[0]) / rate;
            return (rises.Count, active, rises.Count < 3 ? 0 : even / (rises.Count - 2.0), there == 0 ? 0 : (double)high / there);
        }

        /// <summary>The longest time over a tenth of the range, and how much of all movement is slower than some hundred a second.</summary>
        private static (double LongestRun, double SlowShare) Blocks(float[] samples, double rate, double low, double range)
        {
            var length = Math.Max(1, (int)(BlockSeconds * rate));
            var means = new List<double>();
            var (within, total) = (0.0, 0.0);
            for (var from = 0; from + length <= samples.Length; from += length)
            {
                var (sum, squares, n) = (0.0, 0.0, 0);
                foreach (var s in samples.AsSpan(from, length))
                {
                    if (!float.IsNaN(s))
                    {
                        (sum, squares, n) = (sum + s, squares + ((double)s * s), n + 1);
                    }
                }

                if (n > 0)
                {
                    means.Add(sum / n);
                    within += (squares / n) - (sum / n * (sum / n));
                }
            }

            if (means.Count < 4)
            {
                return (0, 0);
            }

            var middle = means.Average();
            total = means.Sum(m => (m - middle) * (m - middle));
            var (longest, run) = (0, 0);
            foreach (var mean in means)
            {
                run = mean > low + (0.1 * range) ? run + 1 : 0;
                longest = Math.Max(longest, run);
            }

            return (longest * length / rate, total + within > 0 ? total / (total + within) : 0);
        }
    }
}
