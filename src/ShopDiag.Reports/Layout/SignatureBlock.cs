using PdfSharp.Drawing;
using PdfSharp.UniversalAccessibility;

namespace ShopDiag.Reports.Layout;

/// <summary>Lines to write on, side by side, each with its label below.</summary>
internal sealed class SignatureBlock : Block
{
    private const double WritingHeight = 26;
    private const double Between = 16;
    private static readonly XPen Pen = new(Style.Black, 0.75);
    private static readonly Face LabelFace = new(Style.Table, Bold: false);
    private readonly (string Label, double Share)[] _lines;

    /// <summary>Lines with their labels and the share of the width each takes; shares add up to 1.</summary>
    public SignatureBlock(params (string Label, double Share)[] lines) => _lines = lines;

    /// <inheritdoc/>
    public override double HeadHeight => WritingHeight + LabelFace.Leading + 2;

    /// <inheritdoc/>
    public override void Draw(Sheet sheet)
    {
        var x = sheet.Left;
        var y = sheet.Y + WritingHeight;
        var usable = sheet.Width - (Between * (_lines.Length - 1));
        foreach (var (label, share) in _lines)
        {
            var width = usable * share;
            sheet.Rule(Pen, x, y, x + width, y);
            sheet.Ink.Begin(PdfBlockLevelElementTag.Paragraph);
            sheet.Ink.Text(label, LabelFace, Style.Black, x, y + 2 + LabelFace.Ascent);
            sheet.Ink.End();
            x += width + Between;
        }

        sheet.Advance(HeadHeight);
    }
}
