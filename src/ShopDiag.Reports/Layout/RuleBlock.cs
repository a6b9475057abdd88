using PdfSharp.Drawing;

namespace ShopDiag.Reports.Layout;

/// <summary>A rule across the page that sets the letterhead off.</summary>
internal sealed class RuleBlock : Block
{
    private static readonly XPen Pen = new(Style.Blue, 1.5);

    /// <inheritdoc/>
    public override double HeadHeight => 3;

    /// <inheritdoc/>
    public override void Draw(Sheet sheet)
    {
        sheet.Rule(Pen, sheet.Left, sheet.Y + 1.5, sheet.Left + sheet.Width, sheet.Y + 1.5);
        sheet.Advance(HeadHeight);
    }
}
