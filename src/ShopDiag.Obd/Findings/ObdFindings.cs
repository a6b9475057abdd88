using System.Collections.Immutable;
using ShopDiag.Obd.Data;
using ShopDiag.Obd.Logs;
using ShopDiag.Obd.Messages;

namespace ShopDiag.Obd.Findings;

/// <summary>What a log comes to: everything that can be taken over into an order, and what is to be said about it. Nothing here counts before a person confirms it.</summary>
public sealed record ObdFindings
{
    /// <summary>The control units that answered, by identifier.</summary>
    public required ImmutableArray<ControlUnit> Units { get; init; }

    /// <summary>Each different VIN with the first control unit that gave it. More than one means that the log is of two cars, or that a control unit came from another.</summary>
    public ImmutableArray<VinFound> Vins { get; init; } = [];

    /// <summary>The codes, by how often they had been cleared, control unit and kind.</summary>
    public ImmutableArray<CodesFound> Codes { get; init; } = [];

    /// <summary>The freeze frames.</summary>
    public ImmutableArray<FreezeFrameFound> FreezeFrames { get; init; } = [];

    /// <summary>The last monitor status of each control unit.</summary>
    public ImmutableArray<MonitorsFound> Monitors { get; init; } = [];

    /// <summary>The last result of each test.</summary>
    public ImmutableArray<TestFound> Tests { get; init; } = [];

    /// <summary>The trims by bank and engine state.</summary>
    public ImmutableArray<TrimsFound> Trims { get; init; } = [];

    /// <summary>The misfires by cylinder.</summary>
    public ImmutableArray<MisfiresFound> Misfires { get; init; } = [];

    /// <summary>Engine speed over time; empty when the log has no time stamps or no speed.</summary>
    public ImmutableArray<SpeedSample> Speed { get; init; } = [];

    /// <summary>Every live value with its range.</summary>
    public ImmutableArray<ValueFound> Values { get; init; } = [];

    /// <summary>How often codes were cleared in the log.</summary>
    public int Cleared { get; init; }

    /// <summary>What is to be said, in plain words.</summary>
    public ImmutableArray<string> Remarks { get; init; } = [];

    /// <summary>Adds a log up.</summary>
    public static ObdFindings From(ObdLog log)
    {
        ArgumentNullException.ThrowIfNull(log);
        var answers = log.Records.Where(r => r.Message.IsAnswer).ToList();
        var speed = SpeedSeries.From(answers);
        var codes = CodesOf(answers);
        var (trims, trimRemarks) = TrimSummary.From(answers);
        var vins = answers.OfType<VehicleRecord>().Where(r => r.Vin is not null).Select(r => new VinFound(UnitOf(r), r.Vin!)).DistinctBy(v => v.Vin.Text).ToImmutableArray();
        return new ObdFindings
        {
            Units = UnitsOf(answers),
            Vins = vins,
            Codes = codes,
            FreezeFrames = FreezeFramesOf(answers),
            Monitors = MonitorsOf(answers),
            Tests = TestsOf(answers),
            Trims = trims,
            Misfires = MisfireSummary.From(answers, speed),
            Speed = speed,
            Values = ValuesOf(answers),
            Cleared = Epochs(answers),
            Remarks = [.. Sayings(answers, vins), .. trimRemarks],
        };
    }

    /// <summary>The identifier that a record's control unit answers under; empty without one.</summary>
    internal static string UnitOf(ObdRecord record) => record.Message.Id?.ToString() ?? "";

    private static ImmutableArray<ControlUnit> UnitsOf(List<ObdRecord> answers) =>
    [
        .. answers.GroupBy(UnitOf).OrderBy(g => g.Key, StringComparer.Ordinal).Select(g =>
        {
            var says = g.OfType<VehicleRecord>().ToList();
            return new ControlUnit(
                g.Key,
                says.Select(r => r.UnitName).LastOrDefault(n => n is not null),
                [.. says.SelectMany(r => r.CalibrationIds).Distinct()],
                [.. says.SelectMany(r => r.VerificationNumbers).Distinct()],
                g.Count());
        }),
    ];

    /// <summary>All control units answer one request to clear; their answers in a row count as one clearing.</summary>
    private static int Epochs(List<ObdRecord> answers) => EpochOf(answers).LastOrDefault().Epoch;

    private static IEnumerable<(ObdRecord Record, int Epoch)> EpochOf(List<ObdRecord> answers)
    {
        var epoch = 0;
        var clearing = new HashSet<string>();
        foreach (var record in answers)
        {
            if (record is not ClearedRecord)
            {
                clearing.Clear();
            }
            else if (clearing.Count == 0 || clearing.Contains(UnitOf(record)))
            {
                clearing.Clear();
                epoch++;
                clearing.Add(UnitOf(record));
            }
            else
            {
                clearing.Add(UnitOf(record));
            }

            yield return (record, epoch);
        }
    }

    private static ImmutableArray<CodesFound> CodesOf(List<ObdRecord> answers) =>
    [
        .. EpochOf(answers).Where(r => r.Record is CodesRecord)
            .GroupBy(r => (r.Epoch, Unit: UnitOf(r.Record), ((CodesRecord)r.Record).Kind))
            .OrderBy(g => g.Key.Epoch).ThenBy(g => g.Key.Unit, StringComparer.Ordinal).ThenBy(g => g.Key.Kind)
            .Select(g => new CodesFound(g.Key.Unit, g.Key.Kind, g.Key.Epoch, [.. ((CodesRecord)g.Last().Record).Codes.Distinct()])),
    ];

    private static ImmutableArray<FreezeFrameFound> FreezeFramesOf(List<ObdRecord> answers) =>
    [
        .. answers.OfType<FreezeFrameRecord>().GroupBy(r => (Unit: UnitOf(r), r.Frame))
            .OrderBy(g => g.Key.Unit, StringComparer.Ordinal).ThenBy(g => g.Key.Frame)
            .Select(g => new FreezeFrameFound(
                g.Key.Unit,
                g.Key.Frame,
                g.Select(r => r.Code).LastOrDefault(c => c is not null),
                [.. g.SelectMany(r => r.Values).GroupBy(v => v.Item.Key).Select(v => v.Last()).OrderBy(v => v.Pid)]))
            .Where(f => f.Code is not null || !f.Values.IsEmpty),
    ];

    private static ImmutableArray<MonitorsFound> MonitorsOf(List<ObdRecord> answers) =>
    [
        .. answers.OfType<ValuesRecord>().SelectMany(r => r.Monitors.Select(m => new MonitorsFound(UnitOf(r), m)))
            .GroupBy(m => (m.Unit, m.Status.ThisCycle)).OrderBy(g => g.Key.Unit, StringComparer.Ordinal).ThenBy(g => g.Key.ThisCycle)
            .Select(g => g.Last()),
    ];

    private static ImmutableArray<TestFound> TestsOf(List<ObdRecord> answers) =>
    [
        .. answers.OfType<TestsRecord>().SelectMany(r => r.Tests.Select(t => new TestFound(UnitOf(r), t)))
            .GroupBy(t => (t.Unit, t.Test.MonitorId, t.Test.TestId)).OrderBy(g => g.Key.Unit, StringComparer.Ordinal).ThenBy(g => g.Key.MonitorId).ThenBy(g => g.Key.TestId)
            .Select(g => g.Last()),
    ];

    private static ImmutableArray<ValueFound> ValuesOf(List<ObdRecord> answers)
    {
        var found = new Dictionary<(string Unit, PidItem Item), ValueFound>();
        foreach (var record in answers.OfType<ValuesRecord>())
        {
            foreach (var value in record.Values)
            {
                var key = (UnitOf(record), value.Item);
                var number = value.Number;
                found[key] = found.TryGetValue(key, out var so)
                    ? so with { Last = value, Least = Math.Min(so.Least ?? 0, number ?? 0), Most = Math.Max(so.Most ?? 0, number ?? 0), Count = so.Count + 1 }
                    : new(key.Item1, value, number, number, 1);
            }
        }

        return [.. found.Values.Select(v => v.Last.Number is null ? v with { Least = null, Most = null } : v).OrderBy(v => v.Unit, StringComparer.Ordinal).ThenBy(v => v.Last.Pid).ThenBy(v => v.Last.Item.Key, StringComparer.Ordinal)];
    }

    private static IEnumerable<string> Sayings(List<ObdRecord> answers, ImmutableArray<VinFound> vins)
    {
        if (vins.Length > 1)
        {
            yield return $"The control units give different VINs ({string.Join(", ", vins.Select(v => v.Vin.Text))}): one of them came from another car, or the log is of two cars.";
        }

        if (Epochs(answers) is > 0 and var times)
        {
            yield return $"Codes were cleared in this log{(times > 1 ? $" {times} times" : "")}: with them went the freeze frame, the counters and the monitors.";
        }

        if (answers.Any(r => r.Message.Id is null))
        {
            yield return "Some messages have no identifier: whose they are is not known, and they count as one control unit's.";
        }
    }
}
