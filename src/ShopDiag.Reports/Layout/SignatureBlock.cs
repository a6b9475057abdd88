using PdfSharp.Drawing;
using PdfSharp.UniversalAccessibility;

namespace ShopDiag.Reports.Layout;

/// <summary>Lines to write on, side by side, each with its label below.</summary>
internal sealed class SignatureBlock : Block
{
    private const double RoomyWritingHeight = 30;
    private const double Between = 16;
    private static readonly XPen Pen = new(Style.Black, 0.75);
    private readonly Face _labelFace;
    private readonly double _writingHeight;
    private readonly (string Label, double Share)[] _lines;

    /// <summary>Lines with their labels and the share of the width each takes; shares add up to 1.</summary>
    public SignatureBlock(Typesetter set, params (string Label, double Share)[] lines)
    {
        _lines = lines;
        _labelFace = new Face(set.Look.Small, Bold: false);
        _writingHeight = RoomyWritingHeight * (0.5 + (0.5 * set.Look.Gaps));
    }

    /// <inheritdoc/>
    public override double HeadHeight => _writingHeight + _labelFace.Leading + 2;

    /// <inheritdoc/>
    public override void Draw(Sheet sheet)
    {
        var x = sheet.Left;
        var y = sheet.Y + _writingHeight;
        var usable = sheet.Width - (Between * (_lines.Length - 1));
        foreach (var (label, share) in _lines)
        {
            var width = usable * share;
            sheet.Rule(Pen, x, y, x + width, y);
            sheet.Ink.Begin(PdfBlockLevelElementTag.Paragraph);
            sheet.Ink.Text(label, _labelFace, Style.Black, x, y + 2 + _labelFace.Ascent);
            sheet.Ink.End();
            x += width + Between;
        }

        sheet.Advance(HeadHeight);
    }
}
