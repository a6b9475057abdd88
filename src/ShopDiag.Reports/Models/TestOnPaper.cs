using System.Collections.Immutable;
using ShopDiag.Diagnosis;

namespace ShopDiag.Reports.Models;

/// <summary>Whether a reading speaks for a sound engine.</summary>
public enum Verdict
{
    /// <summary>Neither.</summary>
    Neutral,

    /// <summary>As on a sound engine.</summary>
    Good,

    /// <summary>Not as on a sound engine: set in bold with a bar beside it.</summary>
    Bad,
}

/// <summary>One test and what it read.</summary>
/// <param name="Title">The test's title.</param>
/// <param name="Plainly">What was done, one plain sentence.</param>
/// <param name="Readings">The readings, at most a few a place.</param>
public sealed record TestOnPaper(string Title, string Plainly, ImmutableArray<ReadingOnPaper> Readings);

/// <summary>One reading.</summary>
/// <param name="At">Where.</param>
/// <param name="Text">What was read, with its unit, such as <c>132 psi</c>; may be empty.</param>
/// <param name="Outcome">What it came to in a word or two, such as <c>low</c>; may be empty.</param>
/// <param name="Verdict">Whether it speaks for a sound engine.</param>
public sealed record ReadingOnPaper(Place At, string Text, string Outcome, Verdict Verdict);

/// <summary>A measure taken at several places, drawn as bars of one scale that starts at zero.</summary>
/// <param name="Title">What was measured, with the unit.</param>
/// <param name="Bars">The bars, in the order they are drawn.</param>
public sealed record MeasureChart(string Title, ImmutableArray<MeasureBar> Bars);

/// <summary>One bar.</summary>
/// <param name="At">Where it was measured.</param>
/// <param name="Value">The number that gives the length; below zero is drawn as zero. Must be finite.</param>
/// <param name="Text">The number as written beside the bar.</param>
/// <param name="Verdict">Bad bars are hatched.</param>
public sealed record MeasureBar(Place At, double Value, string Text, Verdict Verdict)
{
    /// <summary>The number that gives the length.</summary>
    public double Value { get; } = double.IsFinite(Value)
        ? Value
        : throw new ArgumentOutOfRangeException(nameof(Value), Value, "A bar needs a finite number.");
}
