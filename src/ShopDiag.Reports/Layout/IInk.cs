using PdfSharp.Drawing;
using PdfSharp.UniversalAccessibility;

namespace ShopDiag.Reports.Layout;

/// <summary>For a table's header cell: what it heads.</summary>
internal enum HeaderScope
{
    /// <summary>The column below it.</summary>
    Column,

    /// <summary>The row beside it.</summary>
    Row,
}

/// <summary>
/// What a sheet is drawn with. Every paper is laid out twice by the same code: once without ink, to learn how many pages it
/// takes, then with ink, because a tagged page cannot be gone back to for its "page n of m".
/// </summary>
internal interface IInk
{
    /// <summary>Begins a page.</summary>
    void NewPage(PageGeometry page);

    /// <summary>Begins an element of the document's structure.</summary>
    void Begin(PdfBlockLevelElementTag tag);

    /// <summary>Begins a table cell. A header cell says what it heads.</summary>
    void BeginCell(HeaderScope? scope, int span);

    /// <summary>Begins a picture with its words for those who do not see it.</summary>
    void BeginFigure(string alternative, double x, double y, double width, double height);

    /// <summary>Begins what belongs to the sheet, not to the text: rules, running heads.</summary>
    void BeginArtifact();

    /// <summary>Ends the element or artifact begun last.</summary>
    void End();

    /// <summary>Adds a bookmark to this page at a height. Level 1 or 2.</summary>
    void Bookmark(string title, int level, double y);

    /// <summary>Draws printable text on a baseline.</summary>
    void Text(string text, Face face, XColor colour, double x, double baseline);

    /// <summary>Draws a line.</summary>
    void Line(XPen pen, double x1, double y1, double x2, double y2);

    /// <summary>Draws a rectangle; without pen no outline, without brush no filling.</summary>
    void Rectangle(XPen? pen, XBrush? brush, double x, double y, double width, double height);

    /// <summary>Draws a circle; without pen no outline, without brush no filling.</summary>
    void Circle(XPen? pen, XBrush? brush, double x, double y, double radius);

    /// <summary>Draws lines from point to point; at least two.</summary>
    void Polyline(XPen pen, XPoint[] points);

    /// <summary>Draws a picture into a rectangle.</summary>
    void Picture(XImage picture, double x, double y, double width, double height);
}

/// <summary>Draws nothing.</summary>
internal sealed class NoInk : IInk
{
    /// <inheritdoc/>
    public void NewPage(PageGeometry page)
    {
    }

    /// <inheritdoc/>
    public void Begin(PdfBlockLevelElementTag tag)
    {
    }

    /// <inheritdoc/>
    public void BeginCell(HeaderScope? scope, int span)
    {
    }

    /// <inheritdoc/>
    public void BeginFigure(string alternative, double x, double y, double width, double height)
    {
    }

    /// <inheritdoc/>
    public void BeginArtifact()
    {
    }

    /// <inheritdoc/>
    public void End()
    {
    }

    /// <inheritdoc/>
    public void Bookmark(string title, int level, double y)
    {
    }

    /// <inheritdoc/>
    public void Text(string text, Face face, XColor colour, double x, double baseline)
    {
    }

    /// <inheritdoc/>
    public void Line(XPen pen, double x1, double y1, double x2, double y2)
    {
    }

    /// <inheritdoc/>
    public void Rectangle(XPen? pen, XBrush? brush, double x, double y, double width, double height)
    {
    }

    /// <inheritdoc/>
    public void Circle(XPen? pen, XBrush? brush, double x, double y, double radius)
    {
    }

    /// <inheritdoc/>
    public void Polyline(XPen pen, XPoint[] points)
    {
    }

    /// <inheritdoc/>
    public void Picture(XImage picture, double x, double y, double width, double height)
    {
    }
}
