using ShopDiag.Reports.Layout;
using ShopDiag.Reports.Models;

namespace ShopDiag.Reports.Writing;

/// <summary>Lines of money and their sums. Money comes as ready text: it is placed here, never counted.</summary>
internal static class MoneyTables
{
    private const double NarrowestText = 130;
    private const double WidestFigure = 74;
    private const double SumsShare = 0.42;

    /// <summary>Adds a table of lines; its first column is headed by what they are.</summary>
    public static void AddLines(PaperBuilder paper, string heading, IReadOnlyList<MoneyLine> lines)
    {
        List<(string Head, Func<MoneyLine, string> Of)> figures =
        [
            ("Quantity", line => line.Quantity), ("Price each", line => line.UnitPrice), ("Discount", line => line.Discount),
            ("Tax", line => line.TaxCode), ("Amount", line => line.Amount),
        ];
        figures.RemoveAll(column => column.Head is not "Amount" && lines.All(line => string.IsNullOrWhiteSpace(column.Of(line))));
        Cell[] header = [Cell.Head(heading, HeaderScope.Column), .. figures.Select(column => Cell.FigureHead(column.Head))];
        var rows = lines.Select(line => (Cell[])[TextCell(line), .. figures.Select(column => Cell.Figure(column.Of(line)))]).ToList();
        var look = TableLook.Lined(paper.Set.Look);
        var bounds = new[] { NarrowestText }.Concat(figures.Select(_ => WidestFigure)).ToList();
        var widths = ColumnWidths.Fit([header, .. rows], bounds, flexible: 0, paper.Width, look, paper.Set);
        paper.Add(new Table(widths, header, rows, look, paper.Set) { Before = 6 });
    }

    /// <summary>Adds sums at the right, below the amounts they add up, and notes at the left.</summary>
    public static void AddSums(PaperBuilder paper, IReadOnlyList<(string Label, string Amount, bool Strong)> sums, Action<PaperBuilder> notes)
    {
        if (sums.Count == 0)
        {
            notes(paper);
            return;
        }

        paper.AtRight(SumsShare, before: 3, right => AddSums(right, sums), notes);
    }

    /// <summary>Subtotal, discounts, tax by rate, total; what is empty is left out.</summary>
    public static List<(string Label, string Amount, bool Strong)> Sums(TotalsOnPaper totals, string totalLabel = "Total") =>
    [
        .. new[] { ("Subtotal", totals.Subtotal, false), ("Discounts", totals.Discounts, false) }
            .Concat(totals.Taxes.Select(tax => (TaxLabel(tax), tax.Amount, false)))
            .Append((totalLabel, totals.Total, true))
            .Where(sum => !string.IsNullOrWhiteSpace(sum.Item2)),
    ];

    private static void AddSums(PaperBuilder paper, IReadOnlyList<(string Label, string Amount, bool Strong)> sums)
    {
        var look = TableLook.Lined(paper.Set.Look);
        var rows = sums.Select(sum => (Cell[])
        [
            new Cell([new Run(sum.Label, sum.Strong)], Scope: HeaderScope.Row), Cell.Figure(sum.Amount, sum.Strong),
        ]).ToList();
        var widths = ColumnWidths.Fit(rows, [0.4 * paper.Width, 0.6 * paper.Width], flexible: 0, paper.Width, look, paper.Set);
        paper.Add(new Table(widths, null, rows, look, paper.Set));
    }

    private static string TaxLabel(TaxOnPaper tax)
    {
        var code = string.IsNullOrWhiteSpace(tax.Code) ? "" : $"{tax.Code}: ";
        var of = string.IsNullOrWhiteSpace(tax.Base) ? "" : $" of {tax.Base}";
        return $"{code}{tax.Rate}{of}";
    }

    private static Cell TextCell(MoneyLine line)
    {
        List<Run> runs = [new Run(line.Text)];
        if (!string.IsNullOrWhiteSpace(line.Note))
        {
            runs.Add(new Run("\n" + line.Note));
        }

        if (line.HeldBack)
        {
            runs.Add(new Run("\n" + CustomerWording.HeldBack, Bold: true));
        }

        return new Cell(runs, Scope: HeaderScope.Row, Marked: line.HeldBack);
    }
}
