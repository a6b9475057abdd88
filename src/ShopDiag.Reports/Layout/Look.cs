namespace ShopDiag.Reports.Layout;

/// <summary>
/// How tightly a paper is set. Every paper is tried roomy first; the tight look is taken where it saves a page, so that a simple case
/// goes home on one sheet.
/// </summary>
/// <param name="Body">Running text, size in points.</param>
/// <param name="Table">Tables and small remarks, size in points.</param>
/// <param name="Small">Terms and notes below figures, size in points.</param>
/// <param name="Title">The title of the paper.</param>
/// <param name="Section">A section's heading.</param>
/// <param name="Gaps">Share of the usual gap between blocks.</param>
/// <param name="Padding">Blank above and below a ruled cell's text, in points.</param>
/// <param name="BarRow">Height of one bar of a chart with the blank around it, in points.</param>
internal sealed record Look(double Body, double Table, double Small, Face Title, Face Section, double Gaps, double Padding, double BarRow)
{
    /// <summary>The usual look.</summary>
    public static Look Roomy { get; } = new(10, 9, 8, new Face(17, Bold: true), new Face(12, Bold: true), Gaps: 1, Padding: 3, BarRow: 15);

    /// <summary>Smaller, still at least 8 points for all that is read at the counter.</summary>
    public static Look Tight { get; } = new(9, 8, 7.5, new Face(14, Bold: true), new Face(10.5, Bold: true), Gaps: 0.55, Padding: 1.5, BarRow: 12);
}
