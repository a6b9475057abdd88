using System.Collections.Immutable;
using System.Globalization;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Obd.Codes;
using ShopDiag.Obd.Data;
using ShopDiag.Obd.Findings;
using ShopDiag.Obd.Messages;
using ShopDiag.Signals.Speed;

namespace ShopDiag.Web.Obd;

/// <summary>Makes of what a log came to the readings and fields that an order can take over. Pure: nothing counts before a person confirms it.</summary>
public static class ObdOffers
{
    /// <summary>From this coolant temperature on an engine counts as warm, °C: common practice.</summary>
    private const double WarmCelsius = 70;

    /// <summary>Below it as cold; between the two it is not said.</summary>
    private const double ColdCelsius = 40;

    /// <summary>Values of a freeze frame that are worth a line, in this order.</summary>
    private static readonly ImmutableArray<string> InShort = ["rpm", "load", "coolantCelsius", "kmPerHour", "shortTrim1", "longTrim1", "shortTrim2", "longTrim2", "manifoldKPa", "airGramsPerSecond"];

    /// <summary>The offers for an engine, in the order in which they matter; without an engine the VIN only.</summary>
    public static ImmutableArray<ObdOffer> From(ObdFindings findings, Engine? engine)
    {
        ArgumentNullException.ThrowIfNull(findings);
        var warm = Warm(findings);
        var offers = Vins(findings).ToList();
        if (engine is not null)
        {
            offers.AddRange(Codes(findings, warm));
            offers.AddRange(Misfires(findings, engine, warm));
            offers.AddRange(Trims(findings, engine, warm));
        }

        return [.. offers];
    }

    /// <summary>The engine speed as the balance run takes it; null without enough time stamps.</summary>
    public static SpeedTrace? Speed(ObdFindings findings)
    {
        ArgumentNullException.ThrowIfNull(findings);
        return findings.Speed.Length < Signals.SpeedLogs.SpeedLog.FewestPoints ? null : new SpeedTrace
        {
            Points = [.. findings.Speed.Select(s => new SpeedPoint(s.Seconds - findings.Speed[0].Seconds, s.Rpm, 1))],
            StepRpm = SpeedStep,
        };
    }

    /// <summary>The engine speed as a log with columns, such as <c>listen</c> reads; empty without any.</summary>
    public static string SpeedLog(ObdFindings findings)
    {
        ArgumentNullException.ThrowIfNull(findings);
        return findings.Speed.IsEmpty ? "" : "time (s),engine speed (rpm)\n" + string.Concat(findings.Speed.Select(s => string.Create(CultureInfo.InvariantCulture, $"{s.Seconds:0.000},{s.Rpm:0.00}\n")));
    }

    /// <summary>PID 0C counts quarters of a revolution a minute (SAE J1979).</summary>
    private const double SpeedStep = 0.25;

    private static IEnumerable<ObdOffer> Vins(ObdFindings findings) => findings.Vins.Select(v => new ObdOffer(
        $"vin-{v.Vin.Text}", "VIN", [v.Vin.Text + (v.Vin.ModelYear is { } year ? $", model year {year}" : "")], [])
    {
        Vin = v.Vin.Text,
        Caution = string.Join(" ", v.Vin.Warnings),
        Proposed = findings.Vins.Length == 1 && v.Vin.Warnings.IsEmpty,
    });

    /// <summary>
    /// One reading for each time between two clearings: stored, pending and permanent codes of all control units together. Only where stored codes were asked for: pending ones alone do
    /// not say that none are stored.
    /// </summary>
    private static IEnumerable<ObdOffer> Codes(ObdFindings findings, bool? warm)
    {
        var last = findings.Codes.Select(c => c.Cleared).DefaultIfEmpty().Max();
        foreach (var codes in findings.Codes.GroupBy(c => c.Cleared).Where(g => g.Any(c => c.Kind == CodeKind.Stored) || g.Any(c => !c.Codes.IsEmpty)))
        {
            string[] found = [.. codes.SelectMany(c => c.Codes).Select(c => c.Text).Distinct()];
            var frame = findings.FreezeFrames.FirstOrDefault(f => f.Code is { } code && found.Contains(code.Text));
            var fields = new List<KeyValuePair<string, FieldValue>> { new("codes", found.Length == 0 ? FieldValue.Null : FieldValue.Of(found)) };
            if (frame is not null)
            {
                fields.Add(new("freezeFrame", FieldValue.Of(Short(frame))));
            }

            yield return new($"codes-{codes.Key}", codes.Key == 0 ? "Trouble codes" : "Trouble codes after they were cleared", Words(codes, frame), [Of("trouble-codes", Place.Engine, warm, [.. fields])])
            {
                Proposed = codes.Key == last,
                Caution = codes.Key == 0 && last > 0 ? "These codes were cleared later in this log." : "",
            };
        }
    }

    private static ImmutableArray<string> Words(IEnumerable<CodesFound> codes, FreezeFrameFound? frame)
    {
        var lines = codes.SelectMany(c => c.Codes.Select(code => (Code: code, Says: c)))
            .GroupBy(c => c.Code.Text)
            .Select(g => $"{g.Key} ({string.Join(", ", g.Select(c => KindWord(c.Says.Kind)).Distinct())}): {CodeWords.For(g.First().Code)}")
            .ToList();
        if (lines.Count == 0)
        {
            lines.Add("No codes are stored");
        }

        if (frame is not null)
        {
            lines.Add($"Freeze frame: {Short(frame)}");
        }

        return [.. lines];
    }

    private static string KindWord(CodeKind kind) => kind switch
    {
        CodeKind.Stored => "stored",
        CodeKind.Pending => "pending",
        CodeKind.Permanent => "permanent",
        _ => throw new InvalidOperationException($"Unknown kind {kind}."),
    };

    /// <summary><c>P0301: 750 rpm, load 35 %, coolant 83 °C</c>.</summary>
    internal static string Short(FreezeFrameFound frame)
    {
        var values = InShort.Select(key => frame.Values.Where(v => v.Item.Key == key).Select(v => $"{v.Item.Label.ToLowerInvariant()} {Figure(v)}").FirstOrDefault()).Where(v => v is not null);
        return $"{frame.Code}: {string.Join(", ", values)}".TrimEnd(' ', ':');
    }

    /// <summary>A value with its unit, as short as it can be read.</summary>
    internal static string Figure(ObdValue value) => value.Words ?? string.Create(CultureInfo.InvariantCulture, $"{value.Number:0.##} {value.Item.Unit}").TrimEnd();

    private static IEnumerable<ObdOffer> Misfires(ObdFindings findings, Engine engine, bool? warm)
    {
        MisfiresFound[] on = [.. findings.Misfires.Where(m => m.Cylinder <= engine.CylinderCount)];
        MisfiresFound[] counted = [.. on.Where(m => m is { Counted: not null, Revolutions: not null })];
        if (counted.Length > 0)
        {
            yield return new(
                "misfires",
                "Misfire counts, counted while the log ran",
                [.. counted.Select(m => string.Create(CultureInfo.InvariantCulture, $"Cylinder {m.Cylinder}: {m.Counted} in {m.Revolutions:0} revolutions"))],
                [.. counted.Select(m => Of("misfire-counts", Place.Cylinder(m.Cylinder), warm, [new("misfires", FieldValue.Of(m.Counted!.Value)), new("revolutions", FieldValue.Of(Math.Round(m.Revolutions!.Value, MidpointRounding.AwayFromZero)))]))]);
            yield break;
        }

        MisfiresFound[] cycle = [.. on.Where(m => m.ThisCycle is not null)];
        if (cycle.Length > 0)
        {
            yield return new(
                "misfires",
                "Misfire counts of the driving cycle",
                [.. cycle.Select(m => string.Create(CultureInfo.InvariantCulture, $"Cylinder {m.Cylinder}: {m.ThisCycle}{(m.TenCycles is { } ten ? $" (average of ten driving cycles {ten})" : "")}"))],
                [.. cycle.Select(m => Of("misfire-counts", Place.Cylinder(m.Cylinder), warm, [new("misfires", FieldValue.Of(m.ThisCycle!.Value))]))])
            {
                NeedsRevolutions = true,
                Proposed = false,
                Caution = "The car does not say over how many revolutions it counted. Enter them, or read the counters twice while the engine speed is logged.",
            };
        }
    }

    private static IEnumerable<ObdOffer> Trims(ObdFindings findings, Engine engine, bool? warm)
    {
        foreach (var bank in findings.Trims.GroupBy(t => t.Bank))
        {
            var idle = bank.FirstOrDefault(t => t.At == TrimPoint.Idle);
            if (idle is null || EngineBank(engine, bank.Key) is not { } place)
            {
                continue;
            }

            var held = bank.FirstOrDefault(t => t.At == TrimPoint.At2500);
            List<KeyValuePair<string, FieldValue>> fields = [Field("idle.shortPercent", idle.ShortPercent), Field("idle.longPercent", idle.LongPercent)];
            List<string> words = [Line("At idle", idle)];
            if (held is not null)
            {
                fields.AddRange([Field("2500rpm.shortPercent", held.ShortPercent), Field("2500rpm.longPercent", held.LongPercent)]);
                words.Add(Line("At 2500 rpm", held));
            }

            yield return new($"trims-{bank.Key}", $"Fuel trims, bank {place}", [.. words], [Of("fuel-trims", Place.Bank(place), warm, [.. fields])]);
        }
    }

    private static KeyValuePair<string, FieldValue> Field(string name, double percent) => new(name, FieldValue.Of(Math.Round(percent, 1, MidpointRounding.AwayFromZero)));

    private static string Line(string at, TrimsFound trims) =>
        string.Create(CultureInfo.InvariantCulture, $"{at}: short term {trims.ShortPercent:+0.0;-0.0;0.0} %, long term {trims.LongPercent:+0.0;-0.0;0.0} % ({trims.Readings} {(trims.Readings == 1 ? "reading" : "readings")})");

    /// <summary>
    /// Bank 1 of OBD is the one with cylinder 1, whatever number the engine gives it, as with codes. Null for a bank that the engine lacks, and on engines of more than two
    /// banks, which OBD numbers in no agreed way.
    /// </summary>
    private static int? EngineBank(Engine engine, int bank)
    {
        var first = engine.BankOf(1);
        return (bank, engine.Banks.Length) switch
        {
            (1, 1 or 2) => first,
            (2, 2) => 3 - first,
            _ => null,
        };
    }

    private static bool? Warm(ObdFindings findings)
    {
        var coolant = findings.Values.FirstOrDefault(v => v.Last.Item.Key == "coolantCelsius")?.Last.Number;
        return coolant >= WarmCelsius ? true : coolant < ColdCelsius ? false : null;
    }

    private static Reading Of(string test, Place at, bool? warm, IEnumerable<KeyValuePair<string, FieldValue>> fields) =>
        new() { Test = test, At = at, Warm = warm, Note = "Read over OBD", Value = new ReadingValue(fields) };
}
