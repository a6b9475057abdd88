using System.Collections.Immutable;

namespace ShopDiag.Web.Components.WorkupViews;

/// <summary>The cylinder sheet: tests down by chapter, cylinders across in bank order.</summary>
/// <param name="Banks">The column headings: each bank with its cylinders front to rear.</param>
/// <param name="Chapters">The rows.</param>
public sealed record SheetView(ImmutableArray<SheetBank> Banks, ImmutableArray<SheetChapter> Chapters)
{
    /// <summary>Number of cylinder columns.</summary>
    public int Columns => Banks.Sum(b => b.Cylinders.Length);

    /// <summary>Every row, top to bottom.</summary>
    public IEnumerable<SheetRow> Rows => Chapters.SelectMany(c => c.Rows);

    /// <summary>The cell with a key, or null where this engine's sheet has none.</summary>
    public SheetCell? Cell(CellKey key) => Rows.SelectMany(r => r.Cells).FirstOrDefault(c => c.Key == key);
}

/// <summary>A bank's columns.</summary>
/// <param name="Bank">Its number from 1.</param>
/// <param name="Cylinders">Front to rear.</param>
public sealed record SheetBank(int Bank, ImmutableArray<int> Cylinders);

/// <summary>A chapter of the sheet.</summary>
/// <param name="Title">In the trade's words.</param>
/// <param name="Rows">Its tests.</param>
public sealed record SheetChapter(string Title, ImmutableArray<SheetRow> Rows);

/// <summary>One test, or one of the kinds of place it can be taken at.</summary>
/// <param name="Key">The same from one assessment to the next.</param>
/// <param name="Title">The test; with the kind of place where it has several.</param>
/// <param name="Unit">Unit of the figures in its cells, or empty.</param>
/// <param name="Cells">In column order.</param>
/// <param name="Remarks">Why its cells cannot tell, each reason once.</param>
public sealed record SheetRow(string Key, string Title, string Unit, ImmutableArray<SheetCell> Cells, ImmutableArray<string> Remarks)
{
    /// <summary>True when it would look the same: rows are drawn again only when they change.</summary>
    public bool Looks(SheetRow? other) => other is not null && Title == other.Title && Unit == other.Unit
        && Cells.SequenceEqual(other.Cells) && Remarks.SequenceEqual(other.Remarks);
}

/// <summary>One cell.</summary>
/// <param name="Key">Which.</param>
/// <param name="Span">Columns it covers: all for the engine, a bank's for a bank.</param>
/// <param name="Figure">The number, without its unit, or empty.</param>
/// <param name="Mark">The outcome's word and pattern.</param>
/// <param name="Trials">How many readings count here.</param>
/// <param name="TrialsDiffer">True when repeated trials disagree more than their kind should.</param>
/// <param name="HasNote">True when a note stands with one of them.</param>
public sealed record SheetCell(CellKey Key, int Span, string Figure, OutcomeMark Mark, int Trials, bool TrialsDiffer, bool HasNote)
{
    /// <summary>True when it is said that the test cannot be taken here.</summary>
    public bool NotPossible { get; init; }

    /// <summary>True when a reading counts here.</summary>
    public bool IsFilled => Trials > 0;
}
