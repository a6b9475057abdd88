using System.Collections.Immutable;
using ShopDiag.Diagnosis;
using ShopDiag.Signals.Speed;
using ShopDiag.Signals.Transform;

namespace ShopDiag.Signals.SpeedLogs;

/// <summary>
/// Reads an engine-speed log: text with columns, from any tool, 10 lines a second to one. Columns are recognised by header or by content; decimal commas, gaps, empty cells and
/// lines out of order are taken as they come.
/// </summary>
public static class SpeedLog
{
    /// <summary>Fewest points that make a trace.</summary>
    public const int FewestPoints = 8;

    /// <summary>Lines a second that recorders write, with room: what a time step must come to in seconds for a unit to make sense.</summary>
    private const double ShortestStep = 0.008;

    private const double LongestStep = 2.5;

    /// <summary>Speeds beyond this are a recorder's filler, rpm.</summary>
    private const double MostRpm = 20000;

    /// <summary>Reads to the end of the stream. The error says what is wrong or what is to be chosen; its place is <c>time</c>, <c>speed</c> or a line.</summary>
    public static Parsed<SpeedTrace> Read(Stream stream, SpeedLogOptions options)
    {
        ArgumentNullException.ThrowIfNull(stream);
        ArgumentNullException.ThrowIfNull(options);
        var table = LogTable.Read(stream);
        if (table.Error is { } wrong)
        {
            return wrong;
        }

        var columns = LogColumns.Find(table.Value, options.SpeedColumn);
        if (columns.Error is { } unclear)
        {
            return unclear;
        }

        var points = Points(table.Value, columns.Value);
        if (points.Count < FewestPoints)
        {
            return new InputError("speed", $"Only {points.Count} lines have a time and a speed; it takes {FewestPoints} at least.");
        }

        var unit = options.Time ?? columns.Value.Unit;
        return unit is { } known ? Trace(points, Seconds(known), table.Value.Rows.Count) : ByStep(points, table.Value);
    }

    private static List<(double Time, double Rpm)> Points(LogTable table, LogColumns columns)
    {
        var points = new List<(double Time, double Rpm)>();
        foreach (var row in table.Rows)
        {
            if (row.Length > Math.Max(columns.Time, columns.Speed) && LogColumns.TryTime(table, row[columns.Time], out var time)
                && table.TryNumber(row[columns.Speed], out var rpm) && rpm is >= 0 and <= MostRpm)
            {
                points.Add((time, rpm));
            }
        }

        return points;
    }

    /// <summary>The unit from the usual step: 0.1 can only be seconds, 100 only milliseconds; what two units explain is asked.</summary>
    private static Parsed<SpeedTrace> ByStep(List<(double Time, double Rpm)> points, LogTable table)
    {
        double[] steps = [.. points.Zip(points.Skip(1), (a, b) => b.Time - a.Time).Where(d => d > 0)];
        var step = Middle.Of(steps);
        if (table.Header is null && steps.All(d => d == 1))
        {
            return new InputError("time", "Unclear whether the column that rises by 1 is a time or only numbers the lines: choose s if it is seconds, ms if it is milliseconds.");
        }

        LogTime[] fitting = [.. Enum.GetValues<LogTime>().Where(u => step * Seconds(u) is >= ShortestStep and <= LongestStep)];
        return fitting.Length == 1
            ? Trace(points, Seconds(fitting[0]), table.Rows.Count)
            : new InputError("time", FormattableString.Invariant($"The unit of the time column is unclear: choose ms or s. Its lines are {step:0.###} apart."));
    }

    private static Parsed<SpeedTrace> Trace(List<(double Time, double Rpm)> points, double unit, int rows)
    {
        var start = points.Min(p => p.Time);
        SpeedPoint[] even = [.. points.OrderBy(p => p.Time).DistinctBy(p => p.Time).Select(p => new SpeedPoint((p.Time - start) * unit, p.Rpm, 1))];
        if (even[^1].Seconds > 24 * 3600)
        {
            return new InputError("time", "The log would be longer than a day: the unit of its time is another. Choose ms or s.");
        }

        var step = StepOf(even);
        return new SpeedTrace { Points = [.. even], StepRpm = step, Remarks = Remarks(even, step, rows) };
    }

    /// <summary>The resolution: the smallest difference between neighbours that a tenth of all differences do not go below.</summary>
    private static double StepOf(SpeedPoint[] points)
    {
        double[] differences = [.. points.Zip(points.Skip(1), (a, b) => Math.Abs(b.Rpm - a.Rpm)).Where(d => d > 1e-9).Order()];
        return differences.Length == 0 ? 0 : differences[differences.Length / 10];
    }

    private static ImmutableArray<string> Remarks(SpeedPoint[] points, double step, int rows)
    {
        var remarks = ImmutableArray.CreateBuilder<string>();
        double[] steps = [.. points.Zip(points.Skip(1), (a, b) => b.Seconds - a.Seconds)];
        var usual = Middle.Of(steps);
        var gaps = steps.Count(s => s > Math.Max(1.5, 3 * usual));
        if (gaps > 0)
        {
            remarks.Add(FormattableString.Invariant($"The log has {gaps} {(gaps == 1 ? "gap" : "gaps")}, the longest of {steps.Max():0.0} s."));
        }

        if (usual > 1.2)
        {
            remarks.Add(FormattableString.Invariant($"The log has a line only each {usual:0.0} s: hold each cylinder off for 4 s at least, as far as the maker allows."));
        }

        if (rows - points.Length > 0.1 * rows)
        {
            remarks.Add($"{rows - points.Length} of {rows} lines have no time or no speed and were left out.");
        }

        return remarks.ToImmutable();
    }

    private static double Seconds(LogTime unit) => unit switch
    {
        LogTime.Seconds => 1,
        LogTime.Milliseconds => 1e-3,
        LogTime.Microseconds => 1e-6,
        _ => throw new InvalidOperationException($"Unknown unit {unit}."),
    };
}
