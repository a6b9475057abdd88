using PdfSharp.Drawing;
using PdfSharp.Pdf;
using PdfSharp.UniversalAccessibility;

namespace ShopDiag.Reports.Layout;

/// <summary>Draws on the pages of a tagged PDF.</summary>
internal sealed class PdfInk : IInk, IDisposable
{
    private readonly PdfDocument _document;
    private readonly Typesetter _set;
    private readonly StructureBuilder _structure;
    private readonly Dictionary<XColor, XBrush> _brushes = [];
    private XGraphics? _graphics;
    private PdfPage? _page;
    private double _pageHeight;

    /// <summary>Prepares a document. The language is that of the words on it, such as <c>en-US</c>.</summary>
    public PdfInk(PdfDocument document, Typesetter set, string language)
    {
        (_document, _set) = (document, set);
        var accessibility = UAManager.ForDocument(document);
        accessibility.SetDocumentLanguage(language);
        _structure = accessibility.StructureBuilder;
    }

    private XGraphics Graphics => _graphics ?? throw new InvalidOperationException("No page was begun.");

    /// <inheritdoc/>
    public void NewPage(PageGeometry page)
    {
        // A paragraph may be open: its marked content must end on the page it began on.
        if (_graphics is not null)
        {
            _structure.EndMarkedContentsWithId();
            _graphics.Dispose();
        }

        _page = _document.AddPage();
        _page.Width = XUnit.FromPoint(page.Width);
        _page.Height = XUnit.FromPoint(page.Height);
        _pageHeight = page.Height;
        _graphics = XGraphics.FromPdfPage(_page);
    }

    /// <inheritdoc/>
    public void Begin(PdfBlockLevelElementTag tag) => _structure.BeginElement(tag);

    /// <inheritdoc/>
    public void BeginCell(HeaderScope? scope, int span)
    {
        _structure.BeginElement(scope is null ? PdfBlockLevelElementTag.TableDataCell : PdfBlockLevelElementTag.TableHeaderCell);
        if (scope is not null)
        {
            // ISO 32000-1, table 349: a header cell names its scope; the builder has no method for it.
            _structure.CurrentStructureElement.TableAttributes.Elements.SetName("/Scope", scope is HeaderScope.Row ? "/Row" : "/Column");
        }

        if (span > 1)
        {
            _structure.SetColSpan(span);
        }
    }

    /// <inheritdoc/>
    public void BeginFigure(string alternative, double x, double y, double width, double height) =>
        _structure.BeginElement(
            PdfIllustrationElementTag.Figure, alternative, new XRect(x, _pageHeight - y - height, width, height)); // BBox counts from the foot of the page.

    /// <inheritdoc/>
    public void BeginArtifact() => _structure.BeginArtifact();

    /// <inheritdoc/>
    public void End() => _structure.End();

    /// <inheritdoc/>
    public void Bookmark(string title, int level, double y)
    {
        var parent = level > 1 && _document.Outlines.Count > 0 ? _document.Outlines[^1].Outlines : _document.Outlines;
        var outline = parent.Add(title, _page!, opened: true);
        outline.Top = _pageHeight - y;
    }

    /// <inheritdoc/>
    public void Text(string text, Face face, XColor colour, double x, double baseline)
    {
        if (text.Length > 0)
        {
            Graphics.DrawString(text, _set.Font(face), Brush(colour), x, baseline);
        }
    }

    /// <inheritdoc/>
    public void Line(XPen pen, double x1, double y1, double x2, double y2) => Graphics.DrawLine(pen, x1, y1, x2, y2);

    /// <inheritdoc/>
    public void Rectangle(XPen? pen, XBrush? brush, double x, double y, double width, double height) =>
        Graphics.DrawRectangle(pen, brush, x, y, width, height);

    /// <inheritdoc/>
    public void Circle(XPen? pen, XBrush? brush, double x, double y, double radius) =>
        Graphics.DrawEllipse(pen, brush, x - radius, y - radius, 2 * radius, 2 * radius);

    /// <inheritdoc/>
    public void Polyline(XPen pen, XPoint[] points) => Graphics.DrawLines(pen, points);

    /// <inheritdoc/>
    public void Picture(XImage picture, double x, double y, double width, double height) => Graphics.DrawImage(picture, x, y, width, height);

    /// <inheritdoc/>
    public void Dispose() => _graphics?.Dispose();

    private XBrush Brush(XColor colour)
    {
        if (!_brushes.TryGetValue(colour, out var brush))
        {
            brush = new XSolidBrush(colour);
            _brushes.Add(colour, brush);
        }

        return brush;
    }
}
