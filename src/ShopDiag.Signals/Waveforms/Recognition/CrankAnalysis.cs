using System.Collections.Immutable;
using System.Globalization;
using ShopDiag.Diagnosis;
using ShopDiag.Signals.Transform;
using ShopDiag.Signals.Waveforms.Cranking;
using ShopDiag.Signals.Waveforms.Teeth;

namespace ShopDiag.Signals.Waveforms.Recognition;

/// <summary>Hands a recording of the crank to what judges it, and says in words what came of it.</summary>
internal static class CrankAnalysis
{
    /// <summary>A battery under a starter stays above this; the output of a clamp rests at 0. Volts, common practice.</summary>
    private const double LowestBattery = 4;

    /// <summary>A space this many times the usual one is where teeth are missing.</summary>
    private const double Gap = 1.6;

    /// <summary>True for a channel in volts that never comes near 0.</summary>
    public static bool IsBatteryVoltage(WaveformChannel channel)
    {
        if (!WaveformUnit.TryParse(channel.Unit, out var factor, out var basic) || basic != "V")
        {
            return false;
        }

        var stride = Math.Max(1, channel.Samples.Length / 100_000);
        float[] sorted = [.. channel.Samples.Where((s, i) => i % stride == 0 && float.IsFinite(s)).Order()];
        return sorted.Length > 0 && factor * sorted[sorted.Length / 100] > LowestBattery;
    }

    public static Parsed<WaveformAnalysis> OfCranking(Waveform waveform, int channel, WaveformRequest request)
    {
        if (Missing(request, CrankingRequest.FewestCylinders, CrankingRequest.MostCylinders) is { } missing)
        {
            return missing;
        }

        var result = CrankingCurrent.Analyse(waveform, new()
        {
            Channel = channel - 1,
            Signal = IsBatteryVoltage(waveform.Channels[channel - 1]) ? CrankingSignal.BatteryVoltage : CrankingSignal.Current,
            Cylinders = request.Cylinders!.Value,
            FiringOrder = request.Order,
            Sync = request.SyncChannel is { } sync ? new(sync - 1, request.SyncCylinder, request.SyncDegreesBefore) : null,
        });
        return result.Refused is { } refused ? new InputError("", refused) : new WaveformAnalysis
        {
            Kind = WaveformKind.CrankingCurrent,
            Channel = channel,
            Compression = result.Cylinders,
            Doubtful = result.Doubtful,
            Findings = [.. Words(result)],
            Reasons = result.Remarks,
            Marks = [.. result.Marks.Select(m => new WaveformMark(m.Seconds, Label(result, m.Position)))],
        };
    }

    public static Parsed<WaveformAnalysis> OfSensor(Waveform waveform, int channel, WaveformRequest request)
    {
        var samples = waveform.Channels[channel - 1].Samples;
        var times = ToothEdges.Find(samples, waveform.SampleRate, IsSquare(samples) ? ToothSensor.Hall : ToothSensor.Reluctance);
        var sync = request.SyncChannel is { } with ? SyncPulses.Times(waveform.Channels[with - 1].Samples, waveform.SampleRate) : [];
        var analysis = OfTimes([.. times], [.. sync], request);
        return analysis.IsValid ? analysis.Value with { Kind = WaveformKind.CrankSensor, Channel = channel } : analysis;
    }

    public static Parsed<WaveformAnalysis> OfTimes(ImmutableArray<double> times, ImmutableArray<double> sync, WaveformRequest request)
    {
        if (Missing(request, CrankTeeth.FewestCylinders, CrankTeeth.MostCylinders) is { } missing)
        {
            return missing;
        }

        if (request.Order.IsEmpty)
        {
            return new InputError("order", "State the firing order.");
        }

        var wheel = request.Wheel is { } said ? Said(said) : Seen(times);
        if (wheel.Error is { } unclear)
        {
            return unclear;
        }

        if (wheel.Value.Missing > 0 && request.TopAfterGap is null)
        {
            return new InputError("top", $"State the degrees from the first tooth after the gap to top dead centre of cylinder {request.Order[0]}: the maker's figure.");
        }

        var (learnt, judged) = (default(ToothErrors), times);
        if (request.NoFuel is { } cut)
        {
            var stretch = ToothErrors.Learn(times.Where(t => t >= cut.From && t <= cut.To).ToArray(), wheel.Value);
            if (stretch.Error is { } error)
            {
                return new InputError("no-fuel", error.Message);
            }

            (learnt, judged) = (stretch.Value, Fuelled(times, cut));
        }

        var result = CrankTeeth.Analyse(judged.AsSpan(), new()
        {
            Errors = learnt,
            Wheel = wheel.Value,
            FiringOrder = request.Order,
            TopAfterGap = request.TopAfterGap ?? 0,
            Sync = sync.IsEmpty ? null : new(sync, request.SyncCylinder, request.SyncDegreesBefore),
        });
        return result.Refused is { } refused ? new InputError("", refused) : new WaveformAnalysis
        {
            Kind = WaveformKind.ToothTimes,
            Channel = 0,
            Work = result.Cylinders,
            Findings = [.. Words(result, wheel.Value), .. learnt is null ? Array.Empty<string>() : [Learnt(learnt, wheel.Value)]],
            Reasons = result.Remarks,
        };
    }

    /// <summary>What comes before the stretch without fuel, or what comes behind it: the longer of the two.</summary>
    private static ImmutableArray<double> Fuelled(ImmutableArray<double> times, (double From, double To) cut)
    {
        ImmutableArray<double> before = [.. times.Where(t => t < cut.From)], behind = [.. times.Where(t => t > cut.To)];
        return before.Length >= behind.Length ? before : behind;
    }

    private static string Learnt(ToothErrors errors, ToothWheel wheel) =>
        FormattableString.Invariant($"Where the teeth truly stand was learnt from the stretch without fuel: they are off by up to {100 * errors.Degrees.Max(Math.Abs) / wheel.Pitch:0.0} % of a space.");

    private static InputError? Missing(WaveformRequest request, int fewest, int most) => request switch
    {
        { Cylinders: null } => new InputError("cylinders", "State the number of cylinders and the firing order."),
        { EvenFire: false } => new InputError("order", "Only engines whose cylinders fire evenly can be judged this way."),
        { Cylinders: { } n } when n < fewest || n > most => new InputError("cylinders", $"{fewest} to {most} cylinders can be compared this way."),
        _ => null,
    };

    private static IEnumerable<string> Words(CrankingResult result)
    {
        yield return FormattableString.Invariant($"Cranked at {result.Rpm:0} rpm; {result.Cycles} full working cycles were used, and the compressions explain {100 * result.R2:0} % of what the trace does.");
        foreach (var one in result.Cylinders)
        {
            yield return FormattableString.Invariant($"{Who(one)}: {one.Percent:0} % (give or take {Math.Max(1, Math.Ceiling(one.StandardError)):0}).");
        }
    }

    private static string Who(CylinderCompression one) => one.Cylinder is { } cylinder ? string.Create(CultureInfo.InvariantCulture, $"Cylinder {cylinder}") : $"Hump {one.Position}";

    private static string Label(CrankingResult result, char position) =>
        result.Cylinders.FirstOrDefault(c => c.Position == position)?.Cylinder?.ToString(CultureInfo.InvariantCulture) ?? position.ToString();

    private static IEnumerable<string> Words(TeethResult result, ToothWheel wheel)
    {
        yield return FormattableString.Invariant($"{result.Rpm:0} rpm, {result.Cycles} working cycles, wheel {wheel.Places}{(wheel.Missing > 0 ? $"-{wheel.Missing}" : " without a gap")}.");
        foreach (var one in result.Cylinders)
        {
            var work = one.WorkPercent is { } percent ? FormattableString.Invariant($", work {percent:0} % of the sound ones'") : "";
            yield return $"Cylinder {string.Join(" or ", one.CouldBe)}: {(one.Misfires == 0 ? "no misfire" : FormattableString.Invariant($"{one.Misfires} {(one.Misfires == 1 ? "misfire" : "misfires")} in {one.Cycles} cycles"))}{work}.";
        }
    }

    /// <summary>Most samples of a square wave are at its two levels.</summary>
    private static bool IsSquare(float[] samples)
    {
        var stride = Math.Max(1, samples.Length / 100_000);
        float[] sorted = [.. samples.Where((s, i) => i % stride == 0 && float.IsFinite(s)).Order()];
        if (sorted.Length < 20)
        {
            return false;
        }

        var (low, high) = (sorted[sorted.Length / 20], sorted[sorted.Length * 19 / 20]);
        var near = 0.15 * (high - low);
        return sorted.Count(s => s < low + near) > 0.2 * sorted.Length && sorted.Count(s => s > high - near) > 0.2 * sorted.Length
            && sorted.Count(s => s >= low + near && s <= high - near) < 0.2 * sorted.Length;
    }

    private static Parsed<ToothWheel> Said(string text)
    {
        var parts = text.Split('-');
        return parts.Length is 1 or 2 && int.TryParse(parts[0], NumberStyles.None, CultureInfo.InvariantCulture, out var places)
            && int.TryParse(parts.Length == 2 ? parts[1] : "0", NumberStyles.None, CultureInfo.InvariantCulture, out var missing)
            ? ToothWheel.Create(places, missing) is { Error: { } error } ? new InputError("wheel", error.Message) : ToothWheel.Create(places, missing)
            : new InputError("wheel", "A wheel is written 60-2 or 36-1, or 36 for one without a gap.");
    }

    /// <summary>The wheel by its gaps: teeth from one to the next, and how wide they are.</summary>
    private static Parsed<ToothWheel> Seen(ImmutableArray<double> times)
    {
        double[] spaces = [.. times.Skip(1).Zip(times, (b, a) => b - a)];
        var gaps = new List<(int At, double Wide)>();
        for (var i = 3; i + 3 < spaces.Length; i++)
        {
            var wide = spaces[i] / Middle.Of(spaces.AsSpan(i - 3, 7));
            if (wide > Gap)
            {
                gaps.Add((i, wide));
            }
        }

        var asks = new InputError("wheel", "The wheel cannot be told from its gaps: state it, such as 60-2, or 36 for one without a gap.");
        if (gaps.Count < 3)
        {
            return asks;
        }

        var teeth = (int)Math.Round(Middle.Of(gaps.Skip(1).Zip(gaps, (b, a) => (double)(b.At - a.At)).ToArray()));
        var missing = (int)Math.Round(Middle.Of(gaps.Select(g => g.Wide).ToArray())) - 1;
        return ToothWheel.Create(teeth + missing, missing) is { IsValid: true } wheel ? wheel : asks;
    }
}
