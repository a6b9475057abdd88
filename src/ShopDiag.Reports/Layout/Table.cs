using PdfSharp.Drawing;
using PdfSharp.UniversalAccessibility;

namespace ShopDiag.Reports.Layout;

/// <summary>A table's cell.</summary>
/// <param name="Runs">Its text.</param>
/// <param name="Span">How many columns it takes.</param>
/// <param name="Scope">For a header cell: what it heads.</param>
/// <param name="Marked">True for a bar at its left side.</param>
/// <param name="ToRight">True for figures: set against the right side, digit below digit (the typeface's digits are all of one width).</param>
internal sealed record Cell(IReadOnlyList<Run> Runs, int Span = 1, HeaderScope? Scope = null, bool Marked = false, bool ToRight = false)
{
    /// <summary>A cell of plain text.</summary>
    public static Cell Of(string text, int span = 1) => new([new Run(text)], span);

    /// <summary>A bold cell that heads its column or row.</summary>
    public static Cell Head(string text, HeaderScope scope) => new([new Run(text, Bold: true)], Scope: scope);

    /// <summary>A cell of figures, against the right side.</summary>
    public static Cell Figure(string text, bool bold = false) => new([new Run(text, bold)], ToRight: true);

    /// <summary>A bold cell that heads a column of figures.</summary>
    public static Cell FigureHead(string text) => Head(text, HeaderScope.Column) with { ToRight = true };
}

/// <summary>How a table looks.</summary>
/// <param name="Size">Type size in points.</param>
/// <param name="Padding">Blank above and below a cell's text, in points.</param>
/// <param name="Left">Blank at its left side.</param>
/// <param name="Right">Blank at its right side.</param>
/// <param name="Rows">Lines below rows.</param>
/// <param name="Columns">Lines between cells.</param>
internal sealed record TableLook(double Size, double Padding, double Left, double Right, bool Rows, bool Columns)
{
    /// <summary>The least height of a row, in points: room to write in.</summary>
    public double LeastRow { get; init; }

    /// <summary>Ruled, for readings and parts.</summary>
    public static TableLook Ruled(Look look) => new(look.Table, look.Padding, Left: 6, Right: 3, Rows: true, Columns: true);

    /// <summary>Ruled between rows alone, for money.</summary>
    public static TableLook Lined(Look look) => new(look.Table, look.Padding, Left: 6, Right: 3, Rows: true, Columns: false);

    /// <summary>Without lines, for labels and values.</summary>
    public static TableLook Open(Look look) => new(look.Body, Padding: 0.75, Left: 0, Right: 10, Rows: false, Columns: false);

    /// <summary>The face of its text where it is not bold.</summary>
    public Face Face => new(Size, Bold: false);
}

/// <summary>
/// A table with fixed column widths. Rows are kept whole and the header is repeated on each page (as part of the sheet, so that
/// it is not read out again); a row higher than a page is carried on as a further row.
/// </summary>
internal sealed class Table : Block
{
    private const int LeastLines = 3;
    private const double MostKept = 400;
    private const double HighestHeader = 200; // A higher one would leave the rows no room: it is set once, as a row.
    private static readonly XPen Hairline = new(Style.Grey, 0.5);
    private static readonly XPen HeaderRule = new(Style.Black, 1);
    private static readonly XPen Mark = new(Style.Vermilion, 2.5);

    private readonly TableLook _look;
    private readonly Typesetter _set;
    private readonly SetRow? _header;
    private readonly List<SetRow> _rows;

    /// <summary>A table of at least one row; the header may be null.</summary>
    public Table(IReadOnlyList<double> widths, IReadOnlyList<Cell>? header, IEnumerable<IReadOnlyList<Cell>> rows, TableLook look, Typesetter set)
    {
        (_look, _set) = (look, set);
        var head = header is null ? null : new SetRow(header, widths, look, set);
        var repeats = head is not null && Height(head) <= HighestHeader;
        _header = repeats ? head : null;
        _rows = [.. head is null || repeats ? [] : new[] { head }, .. rows.Select(row => new SetRow(row, widths, look, set))];
    }

    /// <inheritdoc/>
    public override double HeadHeight => HeaderHeight + (Height(_rows[0]) is var first && first <= MostKept ? first : Height(LeastLines));

    private double HeaderHeight => _header is null ? 0 : Height(_header);

    /// <inheritdoc/>
    public override void Draw(Sheet sheet)
    {
        if (HeaderHeight + Height(_rows[0]) <= sheet.FullRoom + Sheet.Rounding)
        {
            sheet.EnsureRoom(HeaderHeight + Height(_rows[0]));
        }

        sheet.Ink.Begin(PdfBlockLevelElementTag.Table);
        DrawHeader(sheet, repeated: false);
        foreach (var row in _rows)
        {
            DrawRow(sheet, row);
        }

        sheet.Ink.End();
    }

    private double Height(SetRow row) => Height(row.LineCount);

    private double Height(int lines) => Math.Max(_look.LeastRow, (lines * _look.Face.Leading) + (2 * _look.Padding));

    private void DrawRow(Sheet sheet, SetRow row)
    {
        var needed = Height(row) <= sheet.FullRoom - HeaderHeight ? row.LineCount : Math.Min(LeastLines, row.LineCount);
        if (Height(needed) > sheet.Room + Sheet.Rounding)
        {
            NextPage(sheet);
        }

        var first = 0;
        while (first < row.LineCount)
        {
            var fitting = (int)Math.Floor((sheet.Room - (2 * _look.Padding) + Sheet.Rounding) / _look.Face.Leading);
            var count = Math.Min(row.LineCount - first, Math.Max(1, fitting));
            DrawSlice(sheet, row, first, count, Height(count), tagged: true);
            first += count;
            if (first < row.LineCount)
            {
                NextPage(sheet);
            }
        }
    }

    private void NextPage(Sheet sheet)
    {
        sheet.NewPage();
        DrawHeader(sheet, repeated: true);
    }

    private void DrawHeader(Sheet sheet, bool repeated)
    {
        if (_header is null)
        {
            return;
        }

        if (repeated)
        {
            sheet.Ink.BeginArtifact();
        }

        DrawSlice(sheet, _header, 0, _header.LineCount, HeaderHeight, tagged: !repeated);
        if (repeated)
        {
            sheet.Ink.End();
        }
    }

    private void DrawSlice(Sheet sheet, SetRow row, int first, int count, double height, bool tagged)
    {
        var top = sheet.Y;
        if (tagged)
        {
            sheet.Ink.Begin(PdfBlockLevelElementTag.TableRow);
        }

        foreach (var cell in row.Cells)
        {
            DrawCell(sheet, cell, top + _look.Padding, first, count, tagged);
        }

        if (tagged)
        {
            sheet.Ink.End();
            sheet.Ink.BeginArtifact();
        }

        DrawRules(sheet, row, top, height);
        if (tagged)
        {
            sheet.Ink.End();
        }

        sheet.Advance(height);
    }

    private void DrawCell(Sheet sheet, SetCell cell, double top, int first, int count, bool tagged)
    {
        if (tagged)
        {
            sheet.Ink.BeginCell(cell.Source.Scope, cell.Source.Span);
        }

        var baseline = top + _look.Face.Ascent;
        foreach (var line in cell.Lines.Skip(first).Take(count))
        {
            sheet.DrawLine(line, sheet.Left + TextX(cell, line), baseline, Style.Black);
            baseline += _look.Face.Leading;
        }

        if (tagged)
        {
            sheet.Ink.End();
        }
    }

    private double TextX(SetCell cell, Line line) =>
        cell.Source.ToRight ? cell.X + cell.Width - _look.Right - _set.Width(line) : cell.X + _look.Left;

    private void DrawRules(Sheet sheet, SetRow row, double top, double height)
    {
        if (!_look.Rows)
        {
            return;
        }

        var bottom = top + height;
        sheet.Ink.Line(row == _header ? HeaderRule : Hairline, sheet.Left, bottom, sheet.Left + row.Width, bottom);
        foreach (var cell in row.Cells.Skip(1).Where(_ => _look.Columns))
        {
            sheet.Ink.Line(Hairline, sheet.Left + cell.X, top, sheet.Left + cell.X, bottom);
        }

        foreach (var cell in row.Cells.Where(c => c.Source.Marked))
        {
            sheet.Ink.Line(Mark, sheet.Left + cell.X + 2, top + 2, sheet.Left + cell.X + 2, bottom - 2);
        }
    }

    private sealed record SetCell(Cell Source, double X, double Width, IReadOnlyList<Line> Lines);

    private sealed class SetRow
    {
        public SetRow(IReadOnlyList<Cell> cells, IReadOnlyList<double> widths, TableLook look, Typesetter set)
        {
            var laidOut = new List<SetCell>(cells.Count);
            var column = 0;
            foreach (var cell in cells)
            {
                var x = widths.Take(column).Sum();
                var width = widths.Skip(column).Take(cell.Span).Sum();
                laidOut.Add(new SetCell(cell, x, width, set.Lines(cell.Runs, look.Size, width - look.Left - look.Right)));
                column += cell.Span;
            }

            Cells = laidOut;
            Width = widths.Sum();
            LineCount = laidOut.Max(c => c.Lines.Count);
        }

        public IReadOnlyList<SetCell> Cells { get; }

        public double Width { get; }

        public int LineCount { get; }
    }
}
