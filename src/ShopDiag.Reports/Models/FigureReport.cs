using System.Collections.Immutable;
using System.Globalization;

namespace ShopDiag.Reports.Models;

/// <summary>A plain paper of sections with words and tables, for the owner: comebacks, counts.</summary>
public sealed record FigureReport
{
    /// <summary>The shop at the head of the paper.</summary>
    public required ShopOnPaper Shop { get; init; }

    /// <summary>Its title, on the paper and in the file.</summary>
    public required string Title { get; init; }

    /// <summary>The date of the report, in the shop's own time zone.</summary>
    public required DateOnly Date { get; init; }

    /// <summary>How dates are written. Invariant (the default) writes dates as 2026-05-31. The words stay English.</summary>
    public CultureInfo Culture { get; init; } = CultureInfo.InvariantCulture;

    /// <summary>What it is about, a few sentences.</summary>
    public string Introduction { get; init; } = "";

    /// <summary>Its sections.</summary>
    public ImmutableArray<FigureSection> Sections { get; init; } = [];
}

/// <summary>A section of a <see cref="FigureReport"/>.</summary>
/// <param name="Heading">Its heading; a bookmark in the file.</param>
/// <param name="Words">What it says before its tables; may be empty.</param>
/// <param name="Tables">Its tables.</param>
public sealed record FigureSection(string Heading, string Words, ImmutableArray<FigureTable> Tables)
{
    /// <summary>Its charts, after the tables: what they show stands in a table too.</summary>
    public ImmutableArray<ChartOnPaper> Charts { get; init; } = [];
}
