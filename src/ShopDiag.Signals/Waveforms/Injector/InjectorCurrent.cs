using System.Collections.Immutable;
using ShopDiag.Diagnosis;
using ShopDiag.Signals.Waveforms.Pulses;

namespace ShopDiag.Signals.Waveforms.Injector;

/// <summary>Whether the needle's movement shows in the rise of an injector's current.</summary>
public enum OpeningHump
{
    /// <summary>The rise pauses and goes on: the needle moved and met its stop.</summary>
    Present,

    /// <summary>The rise is that of a winding alone.</summary>
    Absent,

    /// <summary>Noise or the shape of the rise allow neither.</summary>
    Unclear,
}

/// <summary>One opening of an injector.</summary>
public sealed record InjectorPulse
{
    /// <summary>When it is switched on, s on the file's clock.</summary>
    public required double StartSeconds { get; init; }

    /// <summary>From on to off, s.</summary>
    public required double PulseSeconds { get; init; }

    /// <summary>Highest current, A.</summary>
    public required double PeakAmps { get; init; }

    /// <summary>Current at the end, A: the hold current of a peak-and-hold driver.</summary>
    public required double EndAmps { get; init; }

    /// <summary>True when the current falls to a lower level that is then held.</summary>
    public required bool PeakAndHold { get; init; }

    /// <summary>From on to the peak before the hold, s; null without hold.</summary>
    public double? PeakSeconds { get; init; }

    /// <summary>Whether the needle's movement shows.</summary>
    public required OpeningHump Hump { get; init; }

    /// <summary>From on to the needle meeting its stop, s; null unless <see cref="Hump"/> is present.</summary>
    public double? OpenSeconds { get; init; }

    /// <summary>How far the slope falls below that of a winding alone: the natural logarithm of their ratio at its lowest.</summary>
    public double? HumpDepth { get; init; }

    /// <summary>Volts over the settled current, ohm; null where the current does not settle or the volts are not known.</summary>
    public double? Ohm { get; init; }
}

/// <summary>What an injector's current comes to.</summary>
public sealed record InjectorCurrent
{
    /// <summary>The openings that were looked at; of very many some hundred, evenly spread.</summary>
    public required ImmutableArray<InjectorPulse> Pulses { get; init; }

    /// <summary>Whether the needle's movement shows in most pulses.</summary>
    public required OpeningHump Hump { get; init; }

    /// <summary>From on to the needle's stop, s; null where no hump shows.</summary>
    public Spread? Open { get; init; }

    /// <summary>From on to off, s.</summary>
    public Spread? PulseWidth { get; init; }

    /// <summary>Peak, A; null where the channel is in volts and the clamp is not known.</summary>
    public Spread? Peak { get; init; }

    /// <summary>Hold current, A; null without peak and hold.</summary>
    public Spread? Hold { get; init; }

    /// <summary>Resistance of the circuit, ohm.</summary>
    public Spread? Ohm { get; init; }

    /// <summary>What was found, in sentences.</summary>
    public ImmutableArray<string> Findings { get; init; } = [];

    /// <summary>What could not be told, and why.</summary>
    public ImmutableArray<string> Reasons { get; init; } = [];

    /// <summary>More pulses than this say nothing new.</summary>
    private const int MostLookedAt = 300;

    /// <summary>Looks at an injector's current; the error when there is nothing to look at.</summary>
    public static Parsed<InjectorCurrent> Analyse(Waveform waveform, CurrentOptions options)
    {
        ArgumentNullException.ThrowIfNull(waveform);
        ArgumentNullException.ThrowIfNull(options);
        var trace = CurrentTrace.Of(waveform, options);
        if (trace.Error is { } unreadable)
        {
            return unreadable;
        }

        var pulses = PulseFinder.Find(trace.Value);
        var stride = (pulses.Count + MostLookedAt - 1) / MostLookedAt;
        return pulses.Count == 0
            ? new InputError("channel", "No opening of an injector from on to off is in the recording: record a few turns of the engine.")
            : InjectorWords.Of([.. pulses.Where((_, i) => i % stride == 0).Select(p => InjectorMeter.Measure(p, trace.Value, options))], trace.Value, options);
    }
}
