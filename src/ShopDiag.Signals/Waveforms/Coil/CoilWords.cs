using System.Collections.Immutable;
using ShopDiag.Signals.Waveforms.Pulses;

namespace ShopDiag.Signals.Waveforms.Coil;

/// <summary>Puts the chargings together and says what they come to.</summary>
internal static class CoilWords
{
    /// <summary>A rise this much steeper than that of the other coils on the same wire points at shorted turns (common practice).</summary>
    private const double ShortedTurns = 1.7;

    /// <summary>Restrikes and cut chargings are shorter than this share of the usual dwell and say nothing of the winding.</summary>
    private const double LeastOfDwell = 0.5;

    public static CoilCurrent Of(ImmutableArray<CoilPulse> pulses, CurrentTrace trace, CurrentOptions options)
    {
        var longest = Spread.Of(pulses.Where(p => p.DwellSeconds > LeastOfDwell * pulses.Max(q => q.DwellSeconds)).Select(p => (double?)p.DwellSeconds))!;
        CoilPulse[] whole = [.. pulses.Where(p => p.DwellSeconds > LeastOfDwell * longest.Median)];
        var end = whole.Where(p => p.End is not null).GroupBy(p => p.End).OrderByDescending(g => g.Count()).Select(g => g.Key).FirstOrDefault();
        var coil = new CoilCurrent
        {
            Pulses = pulses,
            Dwell = Spread.Of(whole.Select(p => (double?)p.DwellSeconds)),
            Peak = trace.InAmps ? Spread.Of(whole.Select(p => (double?)p.PeakAmps)) : null,
            LimitReached = end == CoilEnd.Limited ? Spread.Of(whole.Select(p => p.LimitReachedSeconds)) : null,
            Henry = Spread.Of(whole.Select(p => p.Henry)),
            Tau = Spread.Of(whole.Select(p => p.TauSeconds)),
            End = end,
        };
        return coil with { Findings = Findings(coil, whole), Reasons = [.. trace.Remarks, .. Reasons(coil, trace, options)] };
    }

    private static ImmutableArray<string> Findings(CoilCurrent coil, CoilPulse[] whole)
    {
        var findings = ImmutableArray.CreateBuilder<string>();
        findings.Add(FormattableString.Invariant($"Dwell {1e3 * coil.Dwell!.Median:0.00} ms over {whole.Length} {(whole.Length == 1 ? "charging" : "chargings")}{Scatter(coil.Dwell, 1e3, "ms")}."));
        if (coil.Peak is { } peak)
        {
            findings.Add(FormattableString.Invariant($"Peak current {peak.Median:0.0} A{Scatter(peak, 1, "A")}."));
        }

        findings.AddRange(coil.End switch
        {
            CoilEnd.Limited when coil.LimitReached is { } limit => [FormattableString.Invariant($"The output stage limits the current, {1e3 * limit.Median:0.00} ms after switching on.")],
            CoilEnd.Settled => ["The current flattens by the resistance of the circuit before it is switched off."],
            CoilEnd.Saturated => ["The current rises faster at the end than before: the core is full. The dwell is too long for this coil, or its inductance is too low."],
            CoilEnd.Rising => ["The current is still rising when it is switched off; no limiting."],
            _ => (IEnumerable<string>)[],
        });
        if (coil.Henry is { } henry)
        {
            findings.Add(FormattableString.Invariant($"Inductance about {1e3 * henry.Median:0.0} mH, by the slope of the rise and the supply."));
        }

        findings.AddRange(Unlike(whole));
        return findings.ToImmutable();
    }

    private static IEnumerable<string> Unlike(CoilPulse[] whole)
    {
        if (whole.Length < 3 || Spread.Of(whole.Select(p => p.InitialSlope)) is not { Median: > 0 } usual)
        {
            yield break;
        }

        var steep = whole.Count(p => p.InitialSlope > ShortedTurns * usual.Median);
        if (steep > 0)
        {
            yield return $"{steep} of {whole.Length} chargings rise more than {ShortedTurns.ToString(System.Globalization.CultureInfo.InvariantCulture)} times as fast as the others: if several coils share this wire, one of them has shorted turns.";
        }
    }

    private static IEnumerable<string> Reasons(CoilCurrent coil, CurrentTrace trace, CurrentOptions options)
    {
        if (coil.End is null)
        {
            yield return "The noise hides whether the current is limited or the core fills.";
        }

        if (coil.Henry is null && trace.InAmps)
        {
            yield return options.SupplyVolts is null ? "The inductance needs the volts at the coil while it charges: state them." : "The rise is too short or too noisy to tell the inductance.";
        }
    }

    internal static string Scatter(Spread spread, double factor, string unit) =>
        spread.Count < 3 ? "" : FormattableString.Invariant($" (scatter {factor * spread.Deviation:0.00} {unit})");
}
