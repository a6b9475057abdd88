using System.Collections.Immutable;
using ShopDiag.Diagnosis;
using ShopDiag.Signals.Waveforms.Pulses;

namespace ShopDiag.Signals.Waveforms.Coil;

/// <summary>How the current of a coil's primary winding ends.</summary>
public enum CoilEnd
{
    /// <summary>Still rising when it was switched off.</summary>
    Rising,

    /// <summary>Held at a level by the output stage.</summary>
    Limited,

    /// <summary>Flat because of the resistance in the circuit.</summary>
    Settled,

    /// <summary>Rises faster at the end than before: the core is full.</summary>
    Saturated,
}

/// <summary>One charging of a coil.</summary>
public sealed record CoilPulse
{
    /// <summary>When it is switched on, s on the file's clock.</summary>
    public required double StartSeconds { get; init; }

    /// <summary>From on to the collapse, s.</summary>
    public required double DwellSeconds { get; init; }

    /// <summary>Current just before the collapse, A.</summary>
    public required double PeakAmps { get; init; }

    /// <summary>How it ends; null where noise hides it.</summary>
    public required CoilEnd? End { get; init; }

    /// <summary>From on to the limit, s; null where none is reached.</summary>
    public double? LimitReachedSeconds { get; init; }

    /// <summary>Slope at the start, A/s; null where it cannot be told.</summary>
    public double? InitialSlope { get; init; }

    /// <summary>Inductance by the slope at the start and the supply, H; null without the supply.</summary>
    public double? Henry { get; init; }

    /// <summary>L/R of the whole circuit, s; null where the rise is too straight or too short to tell.</summary>
    public double? TauSeconds { get; init; }
}

/// <summary>What a coil's primary current comes to.</summary>
public sealed record CoilCurrent
{
    /// <summary>Every charging that is whole in the recording.</summary>
    public required ImmutableArray<CoilPulse> Pulses { get; init; }

    /// <summary>Dwell, s.</summary>
    public Spread? Dwell { get; init; }

    /// <summary>Peak, A; null where the channel is in volts and the clamp is not known.</summary>
    public Spread? Peak { get; init; }

    /// <summary>From on to the limit, s; null where none was reached.</summary>
    public Spread? LimitReached { get; init; }

    /// <summary>Inductance, H.</summary>
    public Spread? Henry { get; init; }

    /// <summary>Time constant, s.</summary>
    public Spread? Tau { get; init; }

    /// <summary>How most pulses end; null where it cannot be told.</summary>
    public CoilEnd? End { get; init; }

    /// <summary>What was found, in sentences.</summary>
    public ImmutableArray<string> Findings { get; init; } = [];

    /// <summary>What could not be told, and why.</summary>
    public ImmutableArray<string> Reasons { get; init; } = [];

    /// <summary>Looks at a coil's primary current; the error when there is nothing to look at.</summary>
    public static Parsed<CoilCurrent> Analyse(Waveform waveform, CurrentOptions options)
    {
        ArgumentNullException.ThrowIfNull(waveform);
        ArgumentNullException.ThrowIfNull(options);
        var trace = CurrentTrace.Of(waveform, options);
        if (trace.Error is { } unreadable)
        {
            return unreadable;
        }

        var pulses = PulseFinder.Find(trace.Value);
        return pulses.Count == 0
            ? new InputError("channel", "No charging of a coil from on to off is in the recording: record a few turns of the engine.")
            : CoilWords.Of([.. pulses.Select(p => CoilMeter.Measure(p, trace.Value, options))], trace.Value, options);
    }
}
