using ShopDiag.Signals.Transform;
using ShopDiag.Signals.Waveforms.Pulses;

namespace ShopDiag.Signals.Waveforms.Coil;

/// <summary>Measures one charging of a coil.</summary>
internal static class CoilMeter
{
    /// <summary>Flat is a slope below this share of the slope at the start, for <see cref="FlatSeconds"/> at least (design notes on coils, common practice).</summary>
    private const double Flat = 0.05;

    private const double FlatSeconds = 50e-6;

    /// <summary>A limiter breaks a rise that was still steeper than this share of its start; a rise that flattened by itself was not.</summary>
    private const double StillSteep = 0.2;

    /// <summary>A winding of fixed inductance only gets flatter. A rise this much steeper at its end than at its middle is a full core.</summary>
    private const double Steeper = 1.3;

    /// <summary>The first moments hold the ringing of switching on; the slope is taken behind them.</summary>
    private const double Ringing = 0.06;

    public static CoilPulse Measure(Pulse pulse, CurrentTrace trace, CurrentOptions options)
    {
        var last = pulse.Amps.Length;
        var peak = Middle.Of(pulse.Amps.AsSpan(last - Math.Clamp(last / 50, 1, 9)));
        var flat = FlatFrom(pulse, trace.Noise);
        var rising = flat ?? last;
        var from = Math.Min((int)(Ringing * rising), rising - 8);
        var whole = RiseFit.Of(pulse, Math.Max(0, from), rising);
        var end = flat is { } at ? FlatEnd(pulse, at) : RisingEnd(pulse, trace.Noise);

        // The core fills in the second half: the first alone tells the inductance then.
        var fit = end == CoilEnd.Saturated ? RiseFit.Of(pulse, Math.Max(0, from), rising / 2) : whole;
        var bends = fit is { Rate: > 0 } f && f.Rate * rising * pulse.Step > 0.3 ? fit : null;
        var slope = bends?.InitialSlope ?? fit?.InitialSlope;
        return new CoilPulse
        {
            StartSeconds = pulse.StartSeconds,
            DwellSeconds = pulse.Seconds,
            PeakAmps = peak,
            End = end,
            LimitReachedSeconds = end == CoilEnd.Limited ? Reaches(pulse, flat!.Value) : null,
            InitialSlope = slope,
            Henry = trace.InAmps && slope is > 0 && options.SupplyVolts is { } volts && volts > options.DriverVolts ? (volts - options.DriverVolts) / slope : null,
            TauSeconds = bends is null ? null : 1 / bends.Rate,
        };
    }

    /// <summary>Index from which the current stays flat to the end; null where it does not.</summary>
    private static int? FlatFrom(Pulse pulse, double noise)
    {
        var window = Math.Max(8, (int)(FlatSeconds / pulse.Step));
        var last = pulse.Amps.Length;
        if (last < 3 * window)
        {
            return null;
        }

        // Wide enough that noise makes no slope, as far as the pulse allows.
        var start = Slopes.Line(pulse, 0, last / 4).Slope;
        window = Math.Clamp(Slopes.SamplesFor(noise, pulse.Step, Flat * start / 2), window, last / 3);
        if (Math.Abs(Slopes.Line(pulse, last - window, last).Slope) > Flat * start)
        {
            return null;
        }

        var level = Slopes.Line(pulse, last - window, last).Level;
        var bound = Math.Max(0.02 * level, 3 * noise);
        var from = last - window;
        while (from > 0 && Math.Abs(pulse.Amps[from - 1] - level) <= bound)
        {
            from--;
        }

        return from;
    }

    private static CoilEnd FlatEnd(Pulse pulse, int flat)
    {
        var before = Slopes.Line(pulse, (int)(0.7 * flat), Math.Max(flat, (int)(0.7 * flat) + 2)).Slope;
        var start = Slopes.Line(pulse, 0, Math.Max(2, flat / 4)).Slope;
        return before > StillSteep * start ? CoilEnd.Limited : CoilEnd.Settled;
    }

    /// <summary>Null where noise is as large as what would tell.</summary>
    private static CoilEnd? RisingEnd(Pulse pulse, double noise)
    {
        var last = pulse.Amps.Length;
        var part = last / 6;
        var middle = Slopes.Line(pulse, (int)(0.3 * last), (int)(0.3 * last) + Math.Max(2, part)).Slope;
        var end = Slopes.Line(pulse, last - Math.Max(2, part), last).Slope;
        return Slopes.SamplesFor(noise, pulse.Step, 0.1 * middle) > part ? null
            : end > Steeper * middle ? CoilEnd.Saturated
            : CoilEnd.Rising;
    }

    /// <summary>Where the rise, carried on straight, meets the limit.</summary>
    private static double Reaches(Pulse pulse, int flat)
    {
        var level = Middle.Of(pulse.Amps.AsSpan(flat));
        var to = Math.Max(2, Array.FindIndex(pulse.Amps, a => a > 0.97 * level));
        var from = Math.Min(to - 2, Math.Max(0, Array.FindIndex(pulse.Amps, a => a > 0.85 * level)));
        var (slope, middle) = Slopes.Line(pulse, from, to);
        return slope <= 0 ? pulse.TimeOf(flat) : ((pulse.TimeOf(from) + pulse.TimeOf(to - 1)) / 2) + ((level - middle) / slope);
    }
}
