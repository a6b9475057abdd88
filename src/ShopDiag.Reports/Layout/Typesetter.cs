using System.Globalization;
using System.Text;
using PdfSharp.Drawing;
using PdfSharp.Pdf;
using ShopDiag.Reports.Fonts;

namespace ShopDiag.Reports.Layout;

/// <summary>Measures text for one document and makes it printable. Not shared between threads: one a document.</summary>
internal sealed class Typesetter : IDisposable
{
    private const char Ellipsis = '…';

    // No line of a sheet holds more letters than this in the smallest size used; longer texts are not worth measuring whole.
    private const int LongestFitting = 500;

    private readonly XGraphics _measure;
    private readonly Dictionary<Face, XFont> _fonts = [];
    private readonly Dictionary<(string, Face), double> _widths = [];

    /// <summary>A typesetter with the embedded typeface; roomy unless a look is given.</summary>
    public Typesetter(Look? look = null)
    {
        Look = look ?? Look.Roomy;
        PaperFonts.Install();
        _measure = XGraphics.CreateMeasureContext(new XSize(1000, 1000), XGraphicsUnit.Point, XPageDirection.Downwards);
    }

    /// <summary>Sizes and gaps of this document.</summary>
    public Look Look { get; }

    /// <summary>Makes texts printable and counts what could not be printed.</summary>
    public PrintableText Printable { get; } = new();

    /// <summary>The font of a face. Unicode encoding for all text, so that every glyph can be copied out of the file again.</summary>
    public XFont Font(Face face)
    {
        if (!_fonts.TryGetValue(face, out var font))
        {
            font = new XFont(
                PaperFonts.Family, face.Size, face.Bold ? XFontStyleEx.Bold : XFontStyleEx.Regular, new XPdfFontOptions(PdfFontEncoding.Unicode));
            _fonts.Add(face, font);
        }

        return font;
    }

    /// <summary>Width of printable text in points. Glyphs are neither kerned nor joined, so widths add up.</summary>
    public double Width(string text, Face face)
    {
        if (text.Length == 0)
        {
            return 0;
        }

        if (!_widths.TryGetValue((text, face), out var width))
        {
            width = _measure.MeasureString(text, Font(face)).Width;
            _widths.Add((text, face), width);
        }

        return width;
    }

    /// <summary>Width of a broken line in points, without the blank at its end.</summary>
    public double Width(Line line) => line.Pieces is [.., var last] ? last.X + Width(last.Text.TrimEnd(' '), last.Face) : 0;

    /// <summary>Breaks text into lines; see <see cref="LineBreaker"/>.</summary>
    public IReadOnlyList<Line> Lines(IEnumerable<Run> runs, double size, double width) =>
        LineBreaker.Break(runs.Select(run => run with { Text = Printable.Of(run.Text) }), size, width, this);

    /// <summary>One line of text cut to a width, with an ellipsis when something was cut. For running heads and charts only: the whole text stands elsewhere.</summary>
    public string Cut(string text, Face face, double width)
    {
        var line = string.Join(' ', Printable.Of(text).Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
        if (line.Length <= LongestFitting && Width(line, face) <= width)
        {
            return line;
        }

        // Forward and by single characters: a measured prefix for each of ten thousand letters would fill the memory.
        var room = width - Width(Ellipsis.ToString(), face);
        var kept = new StringBuilder();
        var elements = StringInfo.GetTextElementEnumerator(line);
        while (elements.MoveNext() && (room -= Width(elements.GetTextElement(), face)) >= 0)
        {
            kept.Append(elements.GetTextElement());
        }

        return kept.ToString().TrimEnd(' ') + Ellipsis;
    }

    /// <inheritdoc/>
    public void Dispose() => _measure.Dispose();
}
