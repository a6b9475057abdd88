using System.Collections.Immutable;
using ShopDiag.Diagnosis;

namespace ShopDiag.Signals.Waveforms.Csv;

/// <summary>How the rows of a file are to be read, found out from its first lines.</summary>
internal sealed record CsvLayout
{
    /// <summary>0 where there is one column only.</summary>
    public required byte Separator { get; init; }

    public required byte DecimalSign { get; init; }

    /// <summary>Lines over the first row of numbers.</summary>
    public required int PreambleLines { get; init; }

    /// <summary>The column of times, from 0 on; null where a rate is stated.</summary>
    public int? Time { get; init; }

    /// <summary>Seconds that a 1 in the time column stands for.</summary>
    public double TimeUnit { get; init; } = 1;

    /// <summary>Stated samples a second.</summary>
    public double? SampleRate { get; init; }

    public required ImmutableArray<(int Column, string Name, string? Unit)> Channels { get; init; }

    /// <summary>Cells of a row as most rows have them.</summary>
    public required int Columns { get; init; }
}

/// <summary>Finds the layout: the separator by the lines that come out as rows of numbers, the columns by what they hold, the names above them.</summary>
internal static class LayoutFinder
{
    private const int MostColumns = 256;
    private static readonly byte[] Separators = [(byte)';', (byte)'\t', (byte)',', 0];

    /// <summary>Finds it in the lines of the head.</summary>
    public static Parsed<CsvLayout> Find(IReadOnlyList<byte[]> lines, WaveformCsvOptions options)
    {
        var table = Separators.Select(s => HeadTable.Of(lines, s)).OrderByDescending(t => t.RowCount).FirstOrDefault();
        if (table is null || table.RowCount == 0)
        {
            return new InputError("", "No rows of numbers were found. A waveform is text with a row for each sample: a time and the values, separated by comma, semicolon or tab.");
        }

        if (table.Columns > MostColumns)
        {
            return new InputError($"line {table.FirstRow + 1}", $"More than {MostColumns} columns.");
        }

        return table.CommaIsBoth
            ? new InputError($"line {table.FirstRow + 1}", "The comma separates the columns and is the decimal sign too, so the numbers cannot be told apart. Save it with semicolons or with decimal points.")
            : Columns(table, options);
    }

    private static Parsed<CsvLayout> Columns(HeadTable table, WaveformCsvOptions options)
    {
        foreach (var wanted in options.Channels)
        {
            if (!table.Numeric.Contains(wanted - 1))
            {
                return new InputError("channels", $"Column {wanted} holds no numbers. These do: {string.Join(", ", table.Numeric.Select(c => c + 1))}.");
            }
        }

        var stated = options.SampleRate ?? StatedRate.In(table);
        var time = TimeOf(table, options, stated);
        var counter = table.Numeric.FirstOrDefault(c => table.CountsRows(c) && (time is null || c < time), -1);
        var isCounter = time is { } t && table.CountsRows(t) && options.TimeUnit is null && !table.SaysTime(t);
        if (isCounter && stated is null)
        {
            return new InputError("rate", $"Column {time + 1} only numbers the rows: state the samples a second, or the unit of that column if it is a time.");
        }

        if (time is null && stated is null)
        {
            return new InputError("rate", "No column rises from row to row as a time does, and no sample rate is stated in the file: state the samples a second.");
        }

        ImmutableArray<(int, string, string?)> channels =
        [
            .. table.Numeric.Where(c => c != time && c != counter && (options.Channels.IsEmpty || options.Channels.Contains(c + 1)))
                .Select(c => (c, table.Name(c).Length > 0 ? table.Name(c) : $"column {c + 1}", table.Unit(c))),
        ];

        // A stated rate that a person gave is above the file's times; one of the file's own is not, for it may be rounded.
        var byRate = isCounter || (options.SampleRate is not null && !channels.IsEmpty);
        if (channels.IsEmpty && (byRate || time is null))
        {
            return new InputError("channels", "No column of values was found beside the one that numbers the rows.");
        }

        var unit = time is { } column && !byRate ? TimeUnit(table, column, options) : 1.0;
        return unit.Error is { } unclear ? unclear : new CsvLayout
        {
            Separator = table.Separator,
            DecimalSign = table.DecimalSign,
            PreambleLines = table.FirstRow,
            Time = byRate ? null : time,
            TimeUnit = unit.Value,
            SampleRate = byRate || time is null ? stated : null,
            Channels = channels,
            Columns = table.Columns,
        };
    }

    /// <summary>The time by its name, else the leftmost column that rises; with a stated rate only one that is named or that counts the rows.</summary>
    private static int? TimeOf(HeadTable table, WaveformCsvOptions options, double? stated)
    {
        int[] rising = [.. table.Numeric.Where(c => table.Rises(c) && !options.Channels.Contains(c + 1))];
        int[] named = [.. rising.Where(table.SaysTime)];
        int[] times = named.Length > 0 ? named : stated is null || rising.Length < table.Numeric.Count ? rising : [.. rising.Where(table.CountsRows)];

        // A number of the row stands left of the time in some files.
        return times.Length == 0 ? null : times.FirstOrDefault(c => !table.CountsRows(c) || table.SaysTime(c), times[0]);
    }

    private static Parsed<double> TimeUnit(HeadTable table, int column, WaveformCsvOptions options)
    {
        if (options.TimeUnit is { } said)
        {
            return said;
        }

        if (WaveformUnit.TryParse(table.Unit(column), out var factor, out var basic) && basic == "s")
        {
            return factor;
        }

        // Without a unit it is seconds, as far as an oscilloscope would sample at such a rate.
        var step = table.StepOf(column);
        return step is > 0 and <= SlowestStep || table.IsClock(column)
            ? 1
            : new InputError("time", FormattableString.Invariant($"The unit of the time column is not stated and its rows are {step:0.######} apart: state whether it is s, ms or us."));
    }

    /// <summary>Below 200 samples a second nothing that is looked at here can be seen: a larger step is no time in seconds. Our own choice.</summary>
    private const double SlowestStep = 0.005;
}
