using System.Text;

namespace ShopDiag.Signals.Waveforms.Csv;

/// <summary>A line near the top of the file, cut into cells of text. Only the head is looked at this way; the rows are read as bytes.</summary>
internal sealed record HeadLine(string[] Cells)
{
    private static readonly UTF8Encoding Strict = new(false, true);

    /// <summary>Words that stand where a value was beyond the instrument's range or missing.</summary>
    private static readonly string[] NoValue = ["", "-", "--", "---", "nan", "-nan", "inf", "-inf", "+inf", "∞", "-∞", "infinity", "-infinity", "ol", "-ol", "over", "under", "overrange", "overflow", "null", "n/a", "na", "?", "####", "****"];

    /// <summary>Cuts a line at a separator, 0 for none. Quotes are taken off; two quotes inside quotes are one.</summary>
    public static HeadLine Of(ReadOnlySpan<byte> line, byte separator)
    {
        var cells = new List<string>();
        while (true)
        {
            var length = CellLength(line, separator);
            cells.Add(Unquoted(Text(line[..length])));
            if (length == line.Length)
            {
                return new HeadLine([.. cells]);
            }

            line = line[(length + 1)..];
        }
    }

    /// <summary>Bytes to the next separator that is not between quotes, or to the end.</summary>
    public static int CellLength(ReadOnlySpan<byte> line, byte separator)
    {
        var plain = separator == 0 ? -1 : line.IndexOf(separator);
        var quote = line.IndexOf((byte)'"');
        if (quote < 0 || (plain >= 0 && plain < quote))
        {
            return plain < 0 ? line.Length : plain;
        }

        var quoted = false;
        for (var i = quote; i < line.Length; i++)
        {
            if (line[i] == '"')
            {
                quoted = !quoted;
            }
            else if (line[i] == separator && !quoted)
            {
                return i;
            }
        }

        return line.Length;
    }

    /// <summary>True for a cell that is a number, or a time of day.</summary>
    public static bool IsNumber(string cell, byte decimalSign, out double value)
    {
        Span<byte> bytes = stackalloc byte[64];
        value = double.NaN;
        return cell.Length is > 0 and <= 32 && Encoding.UTF8.TryGetBytes(cell, bytes, out var length)
            && (Numbers.Is(bytes[..length], decimalSign, out value) || Numbers.IsClock(bytes[..length], decimalSign, out value));
    }

    /// <summary>True for a cell that says that there is no value.</summary>
    public static bool IsNoValue(string cell) => NoValue.Contains(cell.Trim(), StringComparer.OrdinalIgnoreCase) || cell.Trim().Trim('#', '*').Length == 0;

    public string Cell(int column) => column < Cells.Length ? Cells[column] : "";

    private static string Text(ReadOnlySpan<byte> bytes)
    {
        try
        {
            return Strict.GetString(bytes);
        }
        catch (DecoderFallbackException)
        {
            // Older instruments write the micro sign and the like in Latin-1.
            return Encoding.Latin1.GetString(bytes);
        }
    }

    private static string Unquoted(string cell)
    {
        var trimmed = cell.Trim();
        return trimmed.Length >= 2 && trimmed[0] == '"' && trimmed[^1] == '"' ? trimmed[1..^1].Replace("\"\"", "\"", StringComparison.Ordinal).Trim() : trimmed.Trim('"');
    }
}
