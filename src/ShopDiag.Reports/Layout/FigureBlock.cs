namespace ShopDiag.Reports.Layout;

/// <summary>A picture that is kept in one piece, with its words for those who do not see it.</summary>
internal abstract class FigureBlock : Block
{
    /// <summary>Height in points; less than a page.</summary>
    protected abstract double Height { get; }

    /// <summary>What the picture says.</summary>
    protected abstract string Alternative { get; }

    /// <inheritdoc/>
    public override double HeadHeight => Height;

    /// <inheritdoc/>
    public override void Draw(Sheet sheet)
    {
        sheet.EnsureRoom(Height);
        sheet.Ink.BeginFigure(Alternative, sheet.Left, sheet.Y, sheet.Width, Height);
        Paint(sheet, sheet.Left, sheet.Y);
        sheet.Ink.End();
        sheet.Advance(Height);
    }

    /// <summary>Draws the picture with its upper left corner at a point.</summary>
    protected abstract void Paint(Sheet sheet, double left, double top);

    /// <summary>Draws printable text centred on a point of its baseline.</summary>
    protected static void Centred(Sheet sheet, string text, Face face, double x, double baseline) =>
        sheet.Ink.Text(text, face, Style.Black, x - (sheet.Set.Width(text, face) / 2), baseline);
}
