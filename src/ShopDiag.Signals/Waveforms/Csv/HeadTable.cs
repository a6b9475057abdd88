namespace ShopDiag.Signals.Waveforms.Csv;

/// <summary>The head of a file cut at one separator: which lines are rows of numbers, which columns hold them, what stands above.</summary>
internal sealed class HeadTable
{
    private static readonly string[] TimeWords = ["time", "zeit", "temps", "tiempo", "tempo", "tid", "tijd", "timestamp", "elapsed", "seconds", "sec", "secs", "second", "t", "x"];

    private readonly List<HeadLine> _lines;
    private readonly List<HeadLine> _rows;
    private readonly HeadLine? _header;
    private readonly HeadLine? _units;

    private HeadTable(List<HeadLine> lines, byte separator)
    {
        (_lines, Separator) = (lines, separator);
        DecimalSign = (byte)(IsCommaDecimal() ? ',' : '.');
        bool[] numeric = [.. lines.Select(IsRow)];
        Columns = numeric.Zip(lines).Where(z => z.First).GroupBy(z => z.Second.Cells.Length).OrderByDescending(g => g.Count()).Select(g => g.Key).FirstOrDefault();
        if (Columns < (separator == 0 ? 1 : 2))
        {
            (_rows, Numeric) = ([], []);
            return;
        }

        _rows = [.. numeric.Zip(lines).Where(z => z.First && z.Second.Cells.Length == Columns).Select(z => z.Second)];
        Numeric = [.. Enumerable.Range(0, Columns).Where(c => _rows.Count(r => Is(r, c)) > 0.5 * _rows.Count)];
        FirstRow = lines.FindIndex(l => l.Cells.Length >= Columns && Numeric.All(c => Is(l, c) || HeadLine.IsNoValue(l.Cell(c))) && Numeric.Any(c => Is(l, c)));
        HeadLine[] above = [.. lines.Take(FirstRow).Where(l => l.Cells.Length >= Columns / 2 && l.Cells.Any(c => c.Length > 0)).TakeLast(3)];
        _units = above.LastOrDefault(l => IsUnits(l, above[0] != l));
        _header = above.LastOrDefault(l => l != _units && l.Cells.Any(c => !Is(c) && c.Length > 0));
    }

    public byte Separator { get; }

    public byte DecimalSign { get; }

    public int Columns { get; }

    /// <summary>Lines of the head that are rows of the same number of cells.</summary>
    public int RowCount => Numeric.Count == 0 || FirstRow < 0 ? 0 : _rows.Count;

    /// <summary>Index of the first row.</summary>
    public int FirstRow { get; }

    /// <summary>Columns that hold numbers.</summary>
    public IReadOnlyList<int> Numeric { get; }

    /// <summary>Twice as many cells below as above, with a comma between all: decimal commas were taken for separators.</summary>
    public bool CommaIsBoth => Separator == ',' && _header is { } h && h.Cells.Length * 2 == Columns && h.Cells.Length > 1 && h.Cells.All(c => c.Length > 0 && !Is(c));

    /// <summary>Lines over the first row and that row, which holds a part of the preamble in some files.</summary>
    public IEnumerable<HeadLine> Preamble => _lines.Take(FirstRow + 8);

    /// <summary>Cuts the lines at a separator. One column of decimal commas is not two columns: what stands above has no comma then.</summary>
    public static HeadTable Of(IReadOnlyList<byte[]> lines, byte separator)
    {
        var table = new HeadTable([.. lines.Select(l => HeadLine.Of(l, separator))], separator);
        return separator == ',' && table.Columns == 2 && table.RowCount > 0 && table._header is null && lines.Take(table.FirstRow).LastOrDefault(l => l.Length > 0) is { } above
            && !above.Contains((byte)',') && HeadLine.Of(above, 0).Cells[0].Any(char.IsLetter)
            ? new HeadTable([], separator)
            : table;
    }

    /// <summary>What stands over a column, without its unit; empty where nothing does.</summary>
    public string Name(int column)
    {
        var text = _header?.Cell(column) ?? "";
        var bracket = text.IndexOfAny(['(', '[']);
        return bracket > 0 && InBrackets(text).Length > 0 ? text[..bracket].Trim() : text;
    }

    /// <summary>The unit of a column, from its own row or from brackets behind the name.</summary>
    public string? Unit(int column)
    {
        var own = _units?.Cell(column).Trim('(', ')', '[', ']', ' ') ?? "";
        var text = _header?.Cell(column) ?? "";
        var behind = own.Length > 0 ? own : InBrackets(text);
        if (behind.Length > 0)
        {
            return behind;
        }

        // "Time_ms", "Current/A", "t ms": the last word, where it is a unit and not the whole name.
        var last = text.Split(['_', '/', ' '], StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        return last.Length > 1 && WaveformUnit.TryParse(last[^1], out _, out _) ? last[^1] : null;
    }

    /// <summary>True where the name or the unit over a column says that it is a time.</summary>
    public bool SaysTime(int column)
    {
        var words = Name(column).ToLowerInvariant().Split([' ', '_', '-', '.', '/', ':'], StringSplitOptions.RemoveEmptyEntries);
        return words.Any(w => TimeWords.Contains(w)) || (WaveformUnit.TryParse(Unit(column), out _, out var basic) && basic == "s");
    }

    /// <summary>
    /// Never falls, and rises more often than it stays. What is named a time may stand, for a clock can be coarser than the samples, and even fall: that is then refused with its line, not taken for a channel.
    /// </summary>
    public bool Rises(int column)
    {
        var values = Values(column);
        var steps = values.Zip(values.Skip(1), (a, b) => b - a).ToArray();
        return SaysTime(column)
            ? steps.Count(s => s >= 0) >= 0.8 * steps.Length && steps.Any(s => s > 0)
            : steps.Length > 0 && steps.All(s => s >= 0) && steps.Count(s => s > 0) >= 0.5 * steps.Length;
    }

    /// <summary>True where the column goes up by 1 from row to row.</summary>
    public bool CountsRows(int column)
    {
        var values = Values(column);
        return values.Length > 1 && values.Zip(values.Skip(1)).All(z => z.Second - z.First == 1) && values[0] == Math.Floor(values[0]);
    }

    /// <summary>The usual step of a column in the head.</summary>
    public double StepOf(int column)
    {
        var values = Values(column);
        if (values.Length < 2)
        {
            return 0;
        }

        // Over the middle half, so that a jump at either end does not count.
        var (from, to) = (values.Length / 4, Math.Max((values.Length / 4) + 1, 3 * values.Length / 4));
        return Math.Abs(values[to] - values[from]) / (to - from);
    }

    public bool IsClock(int column) => _rows.Exists(r => r.Cell(column).Contains(':', StringComparison.Ordinal));

    public bool Is(string cell, out double value) => HeadLine.IsNumber(cell, DecimalSign, out value);

    private bool Is(string cell) => Is(cell, out _);

    private bool Is(HeadLine line, int column) => Is(line.Cell(column));

    private double[] Values(int column) => [.. _rows.Select(r => Is(r.Cell(column), out var v) ? v : double.NaN).Where(double.IsFinite)];

    /// <summary>A line that is mostly numbers.</summary>
    private bool IsRow(HeadLine line)
    {
        var filled = line.Cells.Count(c => !HeadLine.IsNoValue(c));
        return filled > 0 && line.Cells.Any(Is) && line.Cells.Count(Is) >= 0.5 * filled;
    }

    private bool IsCommaDecimal()
    {
        // Also between commas, where the numbers stand in quotes.
        var tail = _lines.TakeLast(50).SelectMany(l => l.Cells).ToList();
        var commas = tail.Count(c => c.Contains(',', StringComparison.Ordinal) && HeadLine.IsNumber(c, (byte)',', out _));
        return commas > tail.Count(c => c.Contains('.', StringComparison.Ordinal) && HeadLine.IsNumber(c, (byte)'.', out _) && !c.Contains(':', StringComparison.Ordinal));
    }

    /// <summary>Units in all cells; in most of them is enough below a line that can be the names. "V" may be a name too.</summary>
    private static bool IsUnits(HeadLine line, bool belowNames)
    {
        string[] filled = [.. line.Cells.Where(c => c.Length > 0)];
        var units = filled.Count(c => WaveformUnit.TryParse(c, out _, out _) || (c[0] is '(' or '[' && c[^1] is ')' or ']'));
        return units > 0 && (units == filled.Length || (belowNames && units > 0.5 * filled.Length));
    }

    private static string InBrackets(string text)
    {
        var from = text.LastIndexOfAny(['(', '[']);
        var to = text.LastIndexOfAny([')', ']']);
        return from >= 0 && to > from ? text[(from + 1)..to].Trim() : "";
    }
}
