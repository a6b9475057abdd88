using PdfSharp.Drawing;

namespace ShopDiag.Reports.Layout;

/// <summary>Empty lines to write on; as many as the page has room for, within bounds.</summary>
internal sealed class WritingLines(int least, int most) : Block
{
    private const double Spacing = 21;
    private static readonly XPen Pen = new(Style.Grey, 0.5);

    /// <inheritdoc/>
    public override double HeadHeight => least * Spacing;

    /// <inheritdoc/>
    public override void Draw(Sheet sheet)
    {
        sheet.EnsureRoom(HeadHeight);
        var lines = Math.Clamp((int)(sheet.Room / Spacing), least, most);
        for (var i = 0; i < lines; i++)
        {
            sheet.Advance(Spacing);
            sheet.Rule(Pen, sheet.Left, sheet.Y - 2, sheet.Left + sheet.Width, sheet.Y - 2);
        }
    }
}
