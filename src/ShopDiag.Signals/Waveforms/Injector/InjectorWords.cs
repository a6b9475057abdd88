using System.Collections.Immutable;
using ShopDiag.Signals.Waveforms.Coil;
using ShopDiag.Signals.Waveforms.Pulses;

namespace ShopDiag.Signals.Waveforms.Injector;

/// <summary>Puts the openings together and says what they come to.</summary>
internal static class InjectorWords
{
    /// <summary>Share of pulses that must agree.</summary>
    private const double Most = 0.6;

    public static InjectorCurrent Of(ImmutableArray<InjectorPulse> pulses, CurrentTrace trace, CurrentOptions options)
    {
        var hump = new[] { OpeningHump.Present, OpeningHump.Absent }.Where(h => pulses.Count(p => p.Hump == h) >= Most * pulses.Length).DefaultIfEmpty(OpeningHump.Unclear).First();
        var holds = pulses.Count(p => p.PeakAndHold) > pulses.Length / 2;
        var injector = new InjectorCurrent
        {
            Pulses = pulses,
            Hump = hump,
            Open = hump == OpeningHump.Present ? Spread.Of(pulses.Select(p => p.OpenSeconds)) : null,
            PulseWidth = Spread.Of(pulses.Select(p => (double?)p.PulseSeconds)),
            Peak = trace.InAmps ? Spread.Of(pulses.Select(p => (double?)p.PeakAmps)) : null,
            Hold = holds && trace.InAmps ? Spread.Of(pulses.Where(p => p.PeakAndHold).Select(p => (double?)p.EndAmps)) : null,
            Ohm = Spread.Of(pulses.Select(p => p.Ohm)),
        };
        return injector with { Findings = [.. Findings(injector, holds)], Reasons = [.. trace.Remarks, .. Reasons(injector, holds, trace, options)] };
    }

    private static IEnumerable<string> Findings(InjectorCurrent injector, bool holds)
    {
        var count = injector.Pulses.Length;
        yield return FormattableString.Invariant($"Pulse {1e3 * injector.PulseWidth!.Median:0.00} ms over {count} {(count == 1 ? "opening" : "openings")}{CoilWords.Scatter(injector.PulseWidth, 1e3, "ms")}.");
        if (injector.Peak is { } peak)
        {
            yield return FormattableString.Invariant($"Peak current {peak.Median:0.00} A{CoilWords.Scatter(peak, 1, "A")}.");
        }

        if (holds)
        {
            yield return injector.Hold is { } hold
                ? FormattableString.Invariant($"Peak-and-hold driver: held at {hold.Median:0.00} A.")
                : "Peak-and-hold driver.";
        }

        yield return injector.Hump switch
        {
            OpeningHump.Present => FormattableString.Invariant($"The needle's movement shows: it meets its stop {1e3 * injector.Open!.Median:0.00} ms after switching on{CoilWords.Scatter(injector.Open, 1e3, "ms")}."),
            OpeningHump.Absent => "No movement of the needle shows in the rise: it may be stuck, or this type shows none. Compare with another cylinder's injector.",
            _ => "Whether the needle moves cannot be told.",
        };
        var without = injector.Pulses.Count(p => p.Hump == OpeningHump.Absent);
        if (injector.Hump == OpeningHump.Present && without > 0)
        {
            yield return $"In {without} of {count} openings no movement shows: it may stick at times.";
        }

        if (injector.Ohm is { } ohm)
        {
            yield return FormattableString.Invariant($"Resistance of the circuit about {ohm.Median:0.0} ohm at the temperature it had (volts over settled current).");
        }
    }

    private static IEnumerable<string> Reasons(InjectorCurrent injector, bool holds, CurrentTrace trace, CurrentOptions options)
    {
        if (injector.Hump == OpeningHump.Unclear)
        {
            yield return trace.Noise > 0.03 * trace.Range
                ? "The trace is too noisy for the needle's movement: use a clamp for small currents, put several turns of the wire through it, and record more slowly or with a filter."
                : "The rise neither pauses clearly nor looks like that of a winding alone.";
        }

        if (injector.Ohm is null && trace.InAmps)
        {
            yield return holds ? "The driver regulates the current, so the resistance cannot be told from it."
                : options.SupplyVolts is null ? "The resistance needs the volts at the injector while it is driven: state them."
                : "The current has not settled at the end of the pulse, so the resistance cannot be told.";
        }
    }
}
