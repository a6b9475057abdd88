using ShopDiag.Reports.Layout;
using ShopDiag.Reports.Models;

namespace ShopDiag.Reports.Writing;

/// <summary>Adds tables of ready texts to a paper.</summary>
internal static class FigureTables
{
    /// <summary>Adds a table with its title and note.</summary>
    public static void Add(PaperBuilder paper, FigureTable table)
    {
        var set = paper.Set;
        if (!string.IsNullOrWhiteSpace(table.Title))
        {
            paper.Add(new Paragraph([new Run(table.Title, Bold: true)], set, paper.Width) { KeepWithNext = true, Before = 6 });
        }

        if (table.Rows.IsEmpty)
        {
            paper.Paragraph(table.WhenEmpty);
        }
        else
        {
            var look = TableLook.Ruled(set.Look);
            var header = table.Columns.Select(c => c.IsFigures ? Cell.FigureHead(c.Heading) : Cell.Head(c.Heading, HeaderScope.Column)).ToList();
            var rows = table.Rows.Select(row => row.Cells.Select((text, c) => CellOf(table, row, text, c)).ToList()).ToList();
            paper.Add(new Table(Widths(paper, table, [header, .. rows], look), header, rows, look, set) { Before = 4 });
        }

        paper.SmallPrint(table.Note);
    }

    private static Cell CellOf(FigureTable table, FigureRow row, string text, int column)
    {
        var bad = row.Verdict is Verdict.Bad;
        return new Cell(
            [new Run(text, Bold: bad && column == row.Cells.Length - 1)],
            Scope: column == 0 ? HeaderScope.Row : null,
            Marked: bad && column == 0,
            ToRight: table.Columns[column].IsFigures);
    }

    /// <summary>Columns of figures as wide as they want; what is left is shared among columns of words by how much they have to say.</summary>
    private static double[] Widths(PaperBuilder paper, FigureTable table, IReadOnlyList<IReadOnlyList<Cell>> rows, TableLook look)
    {
        var even = paper.Width / table.Columns.Length;
        var least = rows[0].Select((_, c) => rows.Max(row => Math.Min(even, Widest(row[c], [' ', '\n'], look, paper.Set)))).ToArray();
        var wanted = rows[0].Select((_, c) => Math.Max(least[c], rows.Max(row => Math.Min(paper.Width / 2, Widest(row[c], ['\n'], look, paper.Set))))).ToArray();
        var spare = paper.Width - least.Sum();
        var more = wanted.Zip(least, (w, l) => w - l).ToArray();
        return [.. least.Select((l, c) => l + (spare * (more.Sum() > 0 ? more[c] / more.Sum() : 1.0 / least.Length)))];
    }

    private static double Widest(Cell cell, char[] breaks, TableLook look, Typesetter set) => look.Left + look.Right + 0.5 + cell.Runs
        .SelectMany(run => set.Printable.Of(run.Text).Split(breaks, StringSplitOptions.RemoveEmptyEntries)
            .Select(part => part.Length > 200 ? part[..200] : part)
            .Select(part => set.Width(part, look.Face with { Bold = run.Bold })))
        .DefaultIfEmpty()
        .Max();
}
