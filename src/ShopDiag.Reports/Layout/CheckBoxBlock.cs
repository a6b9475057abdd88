using PdfSharp.Drawing;
using PdfSharp.UniversalAccessibility;

namespace ShopDiag.Reports.Layout;

/// <summary>Choices with a box before each, to tick with a pen.</summary>
internal sealed class CheckBoxBlock : Block
{
    private const double Indent = 16;
    private static readonly XPen Pen = new(Style.Black, 0.8);
    private readonly Face _face;
    private readonly List<IReadOnlyList<Line>> _choices;

    /// <summary>At least one choice.</summary>
    public CheckBoxBlock(IEnumerable<string> choices, Typesetter set, double width)
    {
        _face = new Face(set.Look.Body, Bold: false);
        _choices = [.. choices.Select(choice => set.Lines([new Run(choice)], _face.Size, width - Indent))];
    }

    /// <inheritdoc/>
    public override double HeadHeight => _choices.Sum(c => c.Count) * _face.Leading;

    /// <inheritdoc/>
    public override void Draw(Sheet sheet)
    {
        foreach (var choice in _choices)
        {
            sheet.EnsureRoom(choice.Count * _face.Leading);
            sheet.Ink.BeginArtifact();
            var side = _face.Size * 0.8;
            sheet.Ink.Rectangle(Pen, null, sheet.Left + 2, sheet.Y + _face.Ascent - side, side, side);
            sheet.Ink.End();
            sheet.Ink.Begin(PdfBlockLevelElementTag.Paragraph);
            Split.Over(sheet, choice.Count, _face.Leading, (first, count) =>
                sheet.Lines(choice.Skip(first).Take(count), sheet.Left + Indent, _face.Leading, _face.Ascent));
            sheet.Ink.End();
        }
    }
}
