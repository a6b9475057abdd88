using PdfSharp.Drawing;
using PdfSharp.UniversalAccessibility;

namespace ShopDiag.Reports.Layout;

/// <summary>The paper's title (level 1) or a section's heading (level 2), with its bookmark.</summary>
internal sealed class Heading : Block
{
    private const int MostKept = 6; // Lines. A longer one is no heading that anybody wrote; it may go over a page.

    private readonly IReadOnlyList<Line> _lines;
    private readonly string _bookmark;
    private readonly int _level;
    private readonly Face _face;

    /// <summary>A heading of level 1 or 2.</summary>
    public Heading(string text, int level, Typesetter set, double width)
    {
        _level = level;
        _face = level == 1 ? set.Look.Title : set.Look.Section;
        _lines = set.Lines([new Run(text, Bold: true)], _face.Size, width);
        _bookmark = set.Printable.OfTitle(text);
        KeepWithNext = true;
        Before = 8;
    }

    /// <inheritdoc/>
    public override double HeadHeight => Math.Min(_lines.Count, MostKept) * _face.Leading;

    /// <inheritdoc/>
    public override void Draw(Sheet sheet)
    {
        sheet.Ink.Bookmark(_bookmark, _level, sheet.Y);
        sheet.Ink.Begin(_level == 1 ? PdfBlockLevelElementTag.Heading1 : PdfBlockLevelElementTag.Heading2);
        Split.Over(sheet, _lines.Count, _face.Leading, (first, count) =>
            sheet.Lines(_lines.Skip(first).Take(count), sheet.Left, _face.Leading, _face.Ascent, _level == 1 ? Style.Black : Style.Blue));
        sheet.Ink.End();
    }
}

/// <summary>A paragraph; broken over pages so that no single line stands alone at the foot or the head of a page.</summary>
internal sealed class Paragraph : Block
{
    private const double BarInset = 10;
    private static readonly XPen Bar = new(Style.Black, 2.5);

    private readonly IReadOnlyList<Line> _lines;
    private readonly Face _face;
    private readonly bool _bar;

    /// <summary>A paragraph; with a bar at its left side when it must not be overlooked.</summary>
    public Paragraph(IEnumerable<Run> runs, Typesetter set, double width, double? size = null, bool bar = false)
    {
        _face = new Face(size ?? set.Look.Body, Bold: false);
        _bar = bar;
        _lines = set.Lines(runs, _face.Size, width - (bar ? BarInset : 0));
    }

    /// <inheritdoc/>
    public override double HeadHeight => Math.Min(_lines.Count, _lines.Count == 3 ? 3 : 2) * _face.Leading;

    /// <inheritdoc/>
    public override void Draw(Sheet sheet)
    {
        sheet.Ink.Begin(PdfBlockLevelElementTag.Paragraph);
        Split.Over(sheet, _lines.Count, _face.Leading, (first, count) =>
        {
            var top = sheet.Y;
            sheet.Lines(_lines.Skip(first).Take(count), sheet.Left + (_bar ? BarInset : 0), _face.Leading, _face.Ascent);
            if (_bar)
            {
                sheet.Rule(Bar, sheet.Left + 2, top + 1, sheet.Left + 2, sheet.Y + 1);
            }
        });
        sheet.Ink.End();
    }
}

/// <summary>A list with bullets, tagged as such.</summary>
internal sealed class Bullets : Block
{
    private const double Indent = 12;
    private readonly List<IReadOnlyList<Line>> _items;
    private readonly Face _face;

    /// <summary>A list of at least one item.</summary>
    public Bullets(IEnumerable<IEnumerable<Run>> items, Typesetter set, double width)
    {
        _face = new Face(set.Look.Body, Bold: false);
        _items = [.. items.Select(item => set.Lines(item, set.Look.Body, width - Indent))];
    }

    /// <inheritdoc/>
    public override double HeadHeight => Math.Min(2, _items[0].Count) * _face.Leading;

    /// <inheritdoc/>
    public override void Draw(Sheet sheet)
    {
        sheet.Ink.Begin(PdfBlockLevelElementTag.List);
        foreach (var item in _items)
        {
            sheet.EnsureRoom(Math.Min(2, item.Count) * _face.Leading);
            sheet.Ink.Begin(PdfBlockLevelElementTag.ListItem);
            sheet.Ink.Begin(PdfBlockLevelElementTag.Label);
            sheet.Ink.Text("•", _face, Style.Black, sheet.Left + 2, sheet.Y + _face.Ascent);
            sheet.Ink.End();
            sheet.Ink.Begin(PdfBlockLevelElementTag.ListBody);
            Split.Over(sheet, item.Count, _face.Leading, (first, count) =>
                sheet.Lines(item.Skip(first).Take(count), sheet.Left + Indent, _face.Leading, _face.Ascent));
            sheet.Ink.End();
            sheet.Ink.End();
        }

        sheet.Ink.End();
    }
}

/// <summary>Spreads lines over pages.</summary>
internal static class Split
{
    /// <summary>Calls for as many lines at a time as fit, leaving at least two for the page after.</summary>
    public static void Over(Sheet sheet, int lines, double leading, Action<int, int> draw)
    {
        var first = 0;
        while (first < lines)
        {
            var left = lines - first;
            var fitting = (int)Math.Floor((sheet.Room + Sheet.Rounding) / leading);
            var count = Math.Min(left, Math.Max(1, left - fitting == 1 ? fitting - 1 : fitting));
            draw(first, count);
            first += count;
            if (first < lines)
            {
                sheet.NewPage();
            }
        }
    }
}
