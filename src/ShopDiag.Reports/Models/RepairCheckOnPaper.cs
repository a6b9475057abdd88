using System.Collections.Immutable;

namespace ShopDiag.Reports.Models;

/// <summary>The same tests before and after the repair.</summary>
public sealed record RepairCheckOnPaper
{
    /// <summary>What it came to, one sentence.</summary>
    public string Verdict { get; init; } = "";

    /// <summary>True when the repair held in every check: a check that did not is marked.</summary>
    public bool Passed { get; init; }

    /// <summary>By whom and when, as written; may be empty.</summary>
    public string By { get; init; } = "";

    /// <summary>What was noted beside the readings, such as codes cleared and monitors; a line each.</summary>
    public ImmutableArray<string> Notes { get; init; } = [];

    /// <summary>The checks.</summary>
    public ImmutableArray<RepairCheckLine> Lines { get; init; } = [];
}

/// <summary>One test before and after.</summary>
/// <param name="Test">The test's title.</param>
/// <param name="Where">Where it was taken.</param>
/// <param name="Before">What it read before, with its unit; may be empty.</param>
/// <param name="After">What it read after; empty where it was not taken again.</param>
/// <param name="Outcome">What it came to, in a word or two.</param>
/// <param name="Verdict">Bad where the repair did not hold.</param>
public sealed record RepairCheckLine(string Test, string Where, string Before, string After, string Outcome, Verdict Verdict);
