using PdfSharp.Drawing;

namespace ShopDiag.Reports.Layout;

/// <summary>What stands on every page beside the text.</summary>
/// <param name="Head">Head of every page but the first, which carries the letterhead.</param>
/// <param name="Foot">Left of the page number.</param>
internal sealed record Furniture(string Head, string Foot);

/// <summary>The page being filled: how far down the text has come, and the way on to the next page.</summary>
internal sealed class Sheet
{
    private const double NumberWidth = 100;
    private static readonly Face FurnitureFace = new(Style.Furniture, Bold: false);
    private static readonly XPen Hairline = new(Style.Grey, 0.5);

    private readonly PageGeometry _page;
    private readonly string _head;
    private readonly string _foot;
    private readonly int? _pageCount;

    /// <summary>Begins the first page. The page count is null while it is being found out.</summary>
    public Sheet(PageGeometry page, IInk ink, Typesetter set, Furniture furniture, int? pageCount)
    {
        (_page, Ink, Set, _pageCount) = (page, ink, set, pageCount);
        _head = set.Cut(furniture.Head, FurnitureFace, Width);
        _foot = set.Cut(furniture.Foot, FurnitureFace, Width - NumberWidth);
        NewPage();
    }

    /// <summary>Draws.</summary>
    public IInk Ink { get; }

    /// <summary>Measures.</summary>
    public Typesetter Set { get; }

    /// <summary>The page, from 1.</summary>
    public int PageNumber { get; private set; }

    /// <summary>Where the next thing goes, in points from the top.</summary>
    public double Y { get; private set; }

    /// <summary>Left end of the text.</summary>
    public double Left => _page.Left;

    /// <summary>Width of the text.</summary>
    public double Width => _page.TextWidth;

    /// <summary>Height that is left on this page.</summary>
    public double Room => _page.Bottom - Y;

    /// <summary>Height of an empty page.</summary>
    public double FullRoom => _page.Bottom - _page.Top;

    /// <summary>True when nothing stands on this page yet.</summary>
    public bool AtTop => Y <= _page.Top;

    /// <summary>Goes down.</summary>
    public void Advance(double height) => Y += height;

    /// <summary>Goes down a gap between two blocks; none at the top of a page.</summary>
    public void Gap(double height)
    {
        if (!AtTop)
        {
            Y += height;
        }
    }

    /// <summary>Goes to the next page unless this much fits here; what is higher than a page begins here.</summary>
    public void EnsureRoom(double height)
    {
        if (height > Room && !AtTop)
        {
            NewPage();
        }
    }

    /// <summary>Goes to the next page.</summary>
    public void NewPage()
    {
        PageNumber++;
        Y = _page.Top;
        Ink.NewPage(_page);
        Ink.BeginArtifact();
        DrawFurniture();
        Ink.End();
    }

    /// <summary>Draws lines of text from the current height on, and goes down past them.</summary>
    public void Lines(IEnumerable<Line> lines, double x, double leading, double ascent, XColor? colour = null)
    {
        foreach (var line in lines)
        {
            DrawLine(line, x, Y + ascent, colour ?? Style.Black);
            Y += leading;
        }
    }

    /// <summary>Draws one line on a baseline.</summary>
    public void DrawLine(Line line, double x, double baseline, XColor colour)
    {
        foreach (var piece in line.Pieces)
        {
            Ink.Text(piece.Text, piece.Face, colour, x + piece.X, baseline);
        }
    }

    /// <summary>Draws a rule that belongs to the sheet.</summary>
    public void Rule(XPen pen, double x1, double y1, double x2, double y2)
    {
        Ink.BeginArtifact();
        Ink.Line(pen, x1, y1, x2, y2);
        Ink.End();
    }

    private void DrawFurniture()
    {
        var number = _pageCount is { } count ? $"Page {PageNumber} of {count}" : "";
        var foot = _page.Bottom + 24;
        Ink.Line(Hairline, Left, foot - 12, Left + Width, foot - 12);
        Ink.Text(_foot, FurnitureFace, Style.Black, Left, foot);
        Ink.Text(number, FurnitureFace, Style.Black, Left + Width - Set.Width(number, FurnitureFace), foot);
        if (PageNumber > 1)
        {
            Ink.Text(_head, FurnitureFace, Style.Black, Left, _page.Top - 10);
        }
    }
}
