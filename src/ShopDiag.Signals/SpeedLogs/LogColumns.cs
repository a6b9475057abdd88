using System.Globalization;
using ShopDiag.Diagnosis;

namespace ShopDiag.Signals.SpeedLogs;

/// <summary>Which column is the time and which the speed: by what the header says, otherwise by what the numbers do.</summary>
internal sealed record LogColumns(int Time, int Speed, LogTime? Unit)
{
    private static readonly string[] TimeWords = ["time", "zeit", "temps", "tiempo", "tempo", "timestamp", "elapsed", "seconds", "sec", "s", "ms", "t"];
    private static readonly string[] SpeedWords = ["rpm", "1/min", "min-1", "u/min", "tr/min", "rev/min", "r/min", "engine speed", "drehzahl", "motordrehzahl", "régime", "regime", "revolutions"];

    /// <summary>Speeds an idling engine may have with some room, rpm: what a column without a name must hold mostly.</summary>
    private const double Slowest = 250;

    private const double Fastest = 5000;

    /// <summary>Finds the columns of a table.</summary>
    public static Parsed<LogColumns> Find(LogTable table, int? speedColumn)
    {
        if (speedColumn is { } given && (given < 1 || given > table.Columns))
        {
            return new InputError("speed-column", $"There is no column {given}: the log has {table.Columns}.");
        }

        var time = TimeByHeader(table) ?? TimeByContent(table);
        if (time is null)
        {
            return new InputError("time", "No time column was found: one with numbers, or times of day, that rise from line to line.");
        }

        var speed = speedColumn - 1 ?? SpeedByHeader(table, time.Value);
        if (speed is null)
        {
            var byContent = SpeedsByContent(table, time.Value);
            if (byContent.Count != 1)
            {
                return byContent.Count == 0
                    ? new InputError("speed", "No speed column was found: one named rpm or engine speed, or with values from 250 to 5000.")
                    : new InputError("speed", $"Unclear which column is the speed: choose {string.Join(" or ", byContent.Select(c => c + 1))}.");
            }

            speed = byContent[0];
        }

        return new LogColumns(time.Value, speed.Value, UnitOf(table, time.Value));
    }

    /// <summary>Seconds of a cell of the time column in its own unit; a time of day (hours:minutes:seconds) in seconds.</summary>
    public static bool TryTime(LogTable table, string cell, out double value)
    {
        if (table.TryNumber(cell, out value))
        {
            return true;
        }

        // Behind a date and a space or T; parts from the right are seconds, minutes, hours.
        var clock = cell.Split(' ', 'T')[^1].TrimEnd('Z').Replace(',', '.').Split(':');
        value = 0;
        if (clock.Length is < 2 or > 3)
        {
            return false;
        }

        foreach (var part in clock)
        {
            if (!double.TryParse(part, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var number))
            {
                return false;
            }

            value = (60 * value) + number;
        }

        return true;
    }

    private static int? TimeByHeader(LogTable table) => ByHeader(table, c => TimeWords.Any(w => Words(c).Contains(w)) && Rises(table, c.Index), -1);

    private static int? SpeedByHeader(LogTable table, int time) => ByHeader(table, c => SpeedWords.Any(w => c.Name.Contains(w, StringComparison.Ordinal)), time);

    private static int? ByHeader(LogTable table, Func<(int Index, string Name), bool> fits, int except)
    {
        int[] found = [.. (table.Header ?? []).Select((n, i) => (Index: i, Name: n.ToLowerInvariant())).Where(c => c.Index != except && c.Index < table.Columns && fits(c)).Select(c => c.Index)];
        return found.Length == 0 ? null : found[0];
    }

    private static string[] Words((int Index, string Name) column) => column.Name.Split([' ', '(', ')', '[', ']', '_', '-', '.', '/'], StringSplitOptions.RemoveEmptyEntries);

    private static int? TimeByContent(LogTable table)
    {
        int[] rising = [.. Enumerable.Range(0, table.Columns).Where(c => Rises(table, c))];
        return rising.Length == 0 ? null : rising[0];
    }

    private static List<int> SpeedsByContent(LogTable table, int time) => [.. Enumerable.Range(0, table.Columns).Where(c => c != time && IsSpeed(table, c))];

    private static bool IsSpeed(LogTable table, int column)
    {
        double[] values = [.. table.Rows.Where(r => r.Length > column && table.TryNumber(r[column], out _)).Select(r => { table.TryNumber(r[column], out var v); return v; })];
        return values.Length >= 0.5 * table.Rows.Count && values.Count(v => v is >= Slowest and <= Fastest) >= 0.9 * values.Length && values.Distinct().Count() >= 3;
    }

    /// <summary>Nearly every line is later than the one before; equal times occur where a recorder's clock is coarse.</summary>
    private static bool Rises(LogTable table, int column)
    {
        double[] times = [.. table.Rows.Where(r => r.Length > column && TryTime(table, r[column], out _)).Select(r => { TryTime(table, r[column], out var v); return v; })];
        var steps = times.Zip(times.Skip(1), (a, b) => b - a).ToArray();
        return times.Length >= 0.5 * table.Rows.Count && steps.Length > 0
            && steps.Count(s => s >= 0) >= 0.98 * steps.Length && steps.Count(s => s > 0) >= 0.5 * steps.Length;
    }

    private static LogTime? UnitOf(LogTable table, int column)
    {
        if (table.Rows.Exists(r => r.Length > column && r[column].Contains(':', StringComparison.Ordinal)))
        {
            return LogTime.Seconds;
        }

        var words = table.Header is { } header && column < header.Length ? Words((column, header[column].ToLowerInvariant())) : [];
        return words.Any(w => w is "ms" or "millis" or "milliseconds" or "msec") ? LogTime.Milliseconds
            : words.Any(w => w is "us" or "µs" or "micros" or "microseconds") ? LogTime.Microseconds
            : words.Any(w => w is "s" or "sec" or "secs" or "seconds" or "sekunden") ? LogTime.Seconds
            : null;
    }
}
