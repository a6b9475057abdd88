using PdfSharp.Drawing;

namespace ShopDiag.Reports.Layout;

/// <summary>What stands on every page beside the text.</summary>
/// <param name="Head">Head of every page but the first, which carries the letterhead.</param>
/// <param name="Foot">Left of the page number.</param>
internal sealed record Furniture(string Head, string Foot);

/// <summary>The page being filled: how far down the text has come, and the way on to the next page.</summary>
internal sealed class Sheet
{
    /// <summary>What sums of heights may be off by, in points: far below what is seen, far above what arithmetic loses.</summary>
    public const double Rounding = 0.01;

    private const double NumberWidth = 100;
    private static readonly Face FurnitureFace = new(Style.Furniture, Bold: false);
    private static readonly XPen Hairline = new(Style.Grey, 0.5);

    private readonly PageGeometry _page;
    private readonly string _head;
    private readonly string _foot;
    private readonly int? _pageCount;
    private (double Left, double Top, double Width)? _column;

    /// <summary>Begins the first page. The page count is null while it is being found out.</summary>
    public Sheet(PageGeometry page, IInk ink, Typesetter set, Furniture furniture, int? pageCount)
    {
        (_page, Ink, Set, _pageCount) = (page, ink, set, pageCount);
        _head = set.Cut(furniture.Head, FurnitureFace, page.TextWidth);
        _foot = set.Cut(furniture.Foot, FurnitureFace, page.TextWidth - NumberWidth);
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
    public double Left => _column?.Left ?? _page.Left;

    /// <summary>Width of the text.</summary>
    public double Width => _column?.Width ?? _page.TextWidth;

    /// <summary>Height that is left on this page.</summary>
    public double Room => _page.Bottom - Y;

    /// <summary>Height of an empty page.</summary>
    public double FullRoom => _page.Bottom - _page.Top;

    /// <summary>True when nothing stands on this page, or in this column, yet.</summary>
    public bool AtTop => Y <= (_column?.Top ?? _page.Top);

    /// <summary>Goes down.</summary>
    public void Advance(double height) => Y += height;

    /// <summary>Goes down a gap between two blocks, as wide as the look has gaps; none at the top of a page or column.</summary>
    public void Gap(double height)
    {
        if (!AtTop)
        {
            Y += height * Set.Look.Gaps;
        }
    }

    /// <summary>Draws into a column that begins here, and comes back up. It must fit on the page.</summary>
    public void InColumn(double offset, double width, Action draw)
    {
        var (outer, top) = (_column, Y);
        _column = (Left + offset, top, width);
        draw();
        (_column, Y) = (outer, top);
    }

    /// <summary>Goes to the next page unless this much fits here; what is higher than a page begins here.</summary>
    public void EnsureRoom(double height)
    {
        if (height > Room + Rounding && !AtTop)
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
        Ink.Line(Hairline, _page.Left, foot - 12, _page.Left + _page.TextWidth, foot - 12);
        Ink.Text(_foot, FurnitureFace, Style.Black, _page.Left, foot);
        Ink.Text(number, FurnitureFace, Style.Black, _page.Left + _page.TextWidth - Set.Width(number, FurnitureFace), foot);
        if (PageNumber > 1)
        {
            Ink.Text(_head, FurnitureFace, Style.Black, _page.Left, _page.Top - 10);
        }
    }
}
