using System.Collections.Immutable;

namespace ShopDiag.Reports.Models;

/// <summary>A table of ready texts for any paper: a repair check, a list of comebacks.</summary>
public sealed record FigureTable
{
    /// <summary>A table.</summary>
    /// <param name="columns">Its columns, one or more; the first names the rows.</param>
    /// <param name="rows">Its rows, each with as many cells as there are columns.</param>
    /// <exception cref="ArgumentException">No column, or a row that is longer or shorter.</exception>
    public FigureTable(ImmutableArray<FigureColumn> columns, ImmutableArray<FigureRow> rows)
    {
        if (columns.IsDefaultOrEmpty)
        {
            throw new ArgumentException("A table needs a column.", nameof(columns));
        }

        if (rows.FirstOrDefault(r => r.Cells.Length != columns.Length) is { } wrong)
        {
            throw new ArgumentException($"A row has {wrong.Cells.Length} cells where there are {columns.Length} columns.", nameof(rows));
        }

        (Columns, Rows) = (columns, rows);
    }

    /// <summary>Said above it in bold; empty for none.</summary>
    public string Title { get; init; } = "";

    /// <summary>The columns.</summary>
    public ImmutableArray<FigureColumn> Columns { get; }

    /// <summary>The rows.</summary>
    public ImmutableArray<FigureRow> Rows { get; }

    /// <summary>Said in place of rows where there are none.</summary>
    public string WhenEmpty { get; init; } = "Nothing to show.";

    /// <summary>Said below it in small print; empty for none.</summary>
    public string Note { get; init; } = "";
}

/// <summary>A column of a <see cref="FigureTable"/>.</summary>
/// <param name="Heading">Its heading.</param>
/// <param name="IsFigures">True for numbers: set against the right side.</param>
public sealed record FigureColumn(string Heading, bool IsFigures = false);

/// <summary>A row of a <see cref="FigureTable"/>.</summary>
/// <param name="Cells">Its texts.</param>
/// <param name="Verdict">Bad rows are marked with a bar, and their last cell is bold.</param>
public sealed record FigureRow(ImmutableArray<string> Cells, Verdict Verdict = Verdict.Neutral);
