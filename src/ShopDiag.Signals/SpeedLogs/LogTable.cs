using System.Globalization;
using System.Text;
using ShopDiag.Diagnosis;

namespace ShopDiag.Signals.SpeedLogs;

/// <summary>The cells of a text file with columns: separator and decimal sign found out, quotes taken off, lines that are no rows left out.</summary>
internal sealed class LogTable
{
    private const int MostBytes = 32 << 20;
    private const int MostColumns = 512;
    private static readonly char[] Separators = [';', '\t', ','];

    private LogTable(string[]? header, List<string[]> rows, bool commaDecimals) => (Header, Rows, CommaDecimals) = (header, rows, commaDecimals);

    /// <summary>The last line of words over the numbers; null when there is none.</summary>
    public string[]? Header { get; }

    public List<string[]> Rows { get; }

    /// <summary>True for numbers such as <c>748,5</c>.</summary>
    public bool CommaDecimals { get; }

    public int Columns => Rows.Count == 0 ? 0 : Rows.Max(r => r.Length);

    /// <summary>Reads it whole; not more than 32 MB.</summary>
    public static Parsed<LogTable> Read(Stream stream)
    {
        var buffer = new byte[65536];
        using var bytes = new MemoryStream();
        while (stream.Read(buffer) is > 0 and var got)
        {
            bytes.Write(buffer, 0, got);
            if (bytes.Length > MostBytes)
            {
                return new InputError("", "The log is larger than 32 MB. Cut out the balance run.");
            }
        }

        bytes.Position = 0;
        using var reader = new StreamReader(bytes, Encoding.UTF8, detectEncodingFromByteOrderMarks: true);
        var lines = reader.ReadToEnd().Split('\n').Select(l => l.TrimEnd('\r')).Where(l => l.Trim().Length > 0).ToList();
        return lines.Count == 0 ? new InputError("", "The log is empty.") : Split(lines);
    }

    private static Parsed<LogTable> Split(List<string> lines)
    {
        // The separator is the one that cuts most lines into the same number of cells; a semicolon or a tab before a comma, which may be the decimal sign.
        var sample = lines.Skip(lines.Count / 2).Take(50).ToList();
        var separator = Separators.FirstOrDefault(s => sample.Count(l => Cells(l, s).Length >= 2 && Cells(l, s).Length == Cells(sample[0], s).Length) >= 0.8 * sample.Count);
        if (separator == default)
        {
            return new InputError("", "No columns were found: a log has a time and a speed in each line, separated by semicolon, tab or comma.");
        }

        var cells = lines.Select(l => Cells(l, separator)).ToList();
        if (cells.Exists(c => c.Length > MostColumns))
        {
            return new InputError("", $"More than {MostColumns} columns in a line.");
        }

        var comma = separator != ',' && cells.Skip(cells.Count / 2).Take(50).Any(r => r.Any(c => c.Contains(',', StringComparison.Ordinal) && TryNumber(c, true, out _)));
        var first = cells.FindIndex(r => r.Count(c => TryNumber(c, comma, out _)) >= 2);
        if (first < 0)
        {
            return new InputError("", "No line with two numbers was found.");
        }

        var header = first > 0 ? cells.Take(first).LastOrDefault(r => r.Length >= 2 && r.All(c => !TryNumber(c, comma, out _))) : null;
        return new LogTable(header, cells[first..], comma);
    }

    /// <summary>A number in this log's way of writing; false for anything else.</summary>
    public bool TryNumber(string cell, out double value) => TryNumber(cell, CommaDecimals, out value);

    private static bool TryNumber(string cell, bool comma, out double value)
    {
        var text = comma ? cell.Replace(',', '.') : cell;
        return double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out value) && double.IsFinite(value);
    }

    private static string[] Cells(string line, char separator)
    {
        if (!line.Contains('"', StringComparison.Ordinal))
        {
            return [.. line.Split(separator).Select(c => c.Trim())];
        }

        var cells = new List<string>();
        var cell = new StringBuilder();
        var quoted = false;
        foreach (var c in line)
        {
            if (c == '"')
            {
                quoted = !quoted;
            }
            else if (c == separator && !quoted)
            {
                cells.Add(cell.ToString().Trim());
                cell.Clear();
            }
            else
            {
                cell.Append(c);
            }
        }

        cells.Add(cell.ToString().Trim());
        return [.. cells];
    }
}
