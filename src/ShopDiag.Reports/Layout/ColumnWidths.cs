namespace ShopDiag.Reports.Layout;

/// <summary>Shares a table's width out among its columns.</summary>
internal static class ColumnWidths
{
    private const int MostLetters = 40; // A longer word is broken in any case.

    /// <summary>
    /// Each column as wide as its widest line wants, at most its bound; the column given as flexible takes what is left, and at least its own bound:
    /// the others give way where that is too little.
    /// </summary>
    public static IReadOnlyList<double> Fit(
        IEnumerable<IReadOnlyList<Cell>> rows, IReadOnlyList<double> bounds, int flexible, double width, TableLook look, Typesetter set)
    {
        var widths = new double[bounds.Count];
        foreach (var row in rows.Where(r => r.Count == bounds.Count))
        {
            for (var c = 0; c < row.Count; c++)
            {
                widths[c] = Math.Max(widths[c], Math.Min(bounds[c], Natural(row[c], look, set)));
            }
        }

        var others = widths.Where((_, c) => c != flexible).Sum();
        var room = width - bounds[flexible];
        var give = others > room ? room / others : 1;
        return [.. widths.Select((w, c) => c == flexible ? width - (others * give) : w * give)];
    }

    /// <summary>The width of the widest word for running text, of the widest line for figures.</summary>
    private static double Natural(Cell cell, TableLook look, Typesetter set) => look.Left + look.Right + 0.5 + cell.Runs
        .SelectMany(run => set.Printable.Of(run.Text).Split(cell.ToRight ? ['\n'] : [' ', '\n'], StringSplitOptions.RemoveEmptyEntries)
            .Where(word => word.Length < MostLetters)
            .Select(word => set.Width(word, look.Face with { Bold = run.Bold })))
        .DefaultIfEmpty()
        .Max();
}
