namespace ShopDiag.Reports.Layout;

/// <summary>A part of a paper that follows the one before, over as many pages as it takes.</summary>
internal abstract class Block
{
    /// <summary>Gap above, in points; dropped at the top of a page.</summary>
    public double Before { get; init; } = 3;

    /// <summary>True when it must not be the last thing on a page (a heading, an introduction).</summary>
    public bool KeepWithNext { get; init; }

    /// <summary>The least height of its beginning that must stay in one piece, in points.</summary>
    public abstract double HeadHeight { get; }

    /// <summary>Draws it from the sheet's current height on.</summary>
    public abstract void Draw(Sheet sheet);
}
