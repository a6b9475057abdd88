using ShopDiag.Signals.Transform;
using ShopDiag.Signals.Waveforms.Pulses;

namespace ShopDiag.Signals.Waveforms.Injector;

/// <summary>Measures one opening of an injector.</summary>
internal static class InjectorMeter
{
    /// <summary>A current that ends below this share of its peak is held. Saturated drivers end at their peak, hold currents are a quarter of it (common practice).</summary>
    private const double HoldShare = 0.7;

    /// <summary>Settled is a slope below this share of the slope at the start.</summary>
    private const double Settled = 0.05;

    public static InjectorPulse Measure(Pulse pulse, CurrentTrace trace, CurrentOptions options)
    {
        var last = pulse.Amps.Length;
        var end = Middle.Of(pulse.Amps.AsSpan(last - Math.Max(1, last / 20)));
        var (peakAt, peak) = Peak(pulse);
        var held = Middle.Of(pulse.Amps.AsSpan(last - Math.Max(1, last / 5)));
        var hold = held < HoldShare * peak && peakAt < 0.6 * last;
        var rising = hold ? peakAt + 1 : last;
        var hump = HumpFinder.Find(pulse, rising, trace.Noise);
        return new InjectorPulse
        {
            StartSeconds = pulse.StartSeconds,
            PulseSeconds = pulse.Seconds,
            PeakAmps = peak,
            EndAmps = hold ? held : end,
            PeakAndHold = hold,
            PeakSeconds = hold ? pulse.TimeOf(peakAt) : null,
            Hump = hump.Kind,
            OpenSeconds = hump.Seconds,
            HumpDepth = hump.Depth,
            Ohm = !hold && trace.InAmps && options.SupplyVolts is { } volts && volts > options.DriverVolts && IsSettled(pulse) ? (volts - options.DriverVolts) / end : null,
        };
    }

    /// <summary>Highest mean of five samples: one spike is no peak.</summary>
    private static (int At, double Amps) Peak(Pulse pulse)
    {
        var (at, most) = (0, double.NegativeInfinity);
        for (var k = 2; k + 2 < pulse.Amps.Length; k++)
        {
            var mean = (pulse.Amps[k - 2] + pulse.Amps[k - 1] + pulse.Amps[k] + pulse.Amps[k + 1] + pulse.Amps[k + 2]) / 5;
            (at, most) = mean > most ? (k, mean) : (at, most);
        }

        return (at, most);
    }

    private static bool IsSettled(Pulse pulse)
    {
        var last = pulse.Amps.Length;
        var start = Slopes.Line(pulse, 0, Math.Max(4, last / 12)).Slope;
        return Math.Abs(Slopes.Line(pulse, last - Math.Max(4, last / 6), last).Slope) < Settled * start;
    }
}
