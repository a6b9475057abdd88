using PdfSharp.Drawing;
using ShopDiag.Reports.Layout;
using ShopDiag.Reports.Models;

namespace ShopDiag.Reports.Drawing;

/// <summary>The shop's logo, at most so wide and so high.</summary>
internal sealed class LogoFigure(Picture logo, string shopName, double width, double highest) : FigureBlock
{
    private readonly double _scale = Math.Min(width, highest / logo.Steepness);

    /// <inheritdoc/>
    protected override double Height => _scale * logo.Steepness;

    /// <inheritdoc/>
    protected override string Alternative => shopName.Length > 0 ? $"Logo of {shopName}" : "Logo of the shop";

    /// <inheritdoc/>
    protected override void Paint(Sheet sheet, double left, double top) =>
        sheet.Ink.Picture(logo.Image, left, top, _scale, Height);
}

/// <summary>A photo in a frame of fixed height, with its marks as lines over it: light below dark, so that they show on any ground.</summary>
internal sealed class PhotoFigure : FigureBlock
{
    private const double Highest = 180;
    private const double MarkWidth = 2;
    private static readonly XPen Frame = new(Style.Grey, 0.5);
    private static readonly XPen MarkGround = new(XColors.White, MarkWidth + 2.4) { LineCap = XLineCap.Round, LineJoin = XLineJoin.Round };
    private static readonly XPen MarkPen = new(Style.Vermilion, MarkWidth) { LineCap = XLineCap.Round, LineJoin = XLineJoin.Round };

    private readonly Picture? _picture;
    private readonly PhotoOnPaper _photo;
    private readonly string _caption;
    private readonly double _width;

    /// <summary>A photo, or the frame of one that cannot be read, in a width.</summary>
    public PhotoFigure(PhotoOnPaper photo, Picture? picture, Typesetter set, double width)
    {
        (_photo, _picture) = (photo, picture);
        _caption = set.Printable.OfTitle(photo.Caption);
        _width = Math.Min(width, Highest / Steepness);
    }

    /// <inheritdoc/>
    protected override double Height => _width * Steepness;

    /// <inheritdoc/>
    protected override string Alternative =>
        (_picture is null ? "Photo that cannot be read" : "Photo")
        + (_caption.Length > 0 ? $": {_caption}" : "")
        + _photo.Marks.Length switch { 0 => ".", 1 => ". One spot is marked.", var count => $". {count} spots are marked." };

    private double Steepness => _picture?.Steepness ?? 0.3;

    /// <inheritdoc/>
    protected override void Paint(Sheet sheet, double left, double top)
    {
        if (_picture is null)
        {
            var face = new Face(sheet.Set.Look.Table, Bold: false);
            Centred(sheet, "This picture cannot be read.", face, left + (_width / 2), top + (Height / 2));
        }
        else
        {
            sheet.Ink.Picture(_picture.Image, left, top, _width, Height);
            foreach (var mark in _photo.Marks)
            {
                PaintMark(sheet.Ink, MarkGround, mark, left, top);
                PaintMark(sheet.Ink, MarkPen, mark, left, top);
            }
        }

        sheet.Ink.Rectangle(Frame, null, left, top, _width, Height);
    }

    private void PaintMark(IInk ink, XPen pen, PhotoMark mark, double left, double top)
    {
        switch (mark)
        {
            case PhotoStroke stroke:
                Strokes.Paint(ink, pen, stroke.Points, new XRect(left, top, _width, Height));
                break;
            case PhotoCircle circle:
                ink.Polyline(pen, Outline(circle, left, top));
                break;
            default:
                throw new InvalidOperationException($"Unknown mark {mark}.");
        }
    }

    /// <summary>The circle as a chain of points, each kept on the photo: a circle at the edge is cut off there, not drawn over the text beside.</summary>
    private XPoint[] Outline(PhotoCircle circle, double left, double top)
    {
        const int steps = 48;
        double x = circle.Centre.X * _width, y = circle.Centre.Y * Height, radius = circle.Radius * _width;
        return [.. Enumerable.Range(0, steps + 1).Select(i => Math.SinCos(2 * Math.PI * i / steps)).Select(turn => new XPoint(
            left + Math.Clamp(x + (radius * turn.Cos), 0, _width),
            top + Math.Clamp(y + (radius * turn.Sin), 0, Height)))];
    }
}

/// <summary>A signature, drawn as it was written.</summary>
internal sealed class SignatureFigure(SignatureOnPaper signature, string alternative, double width, double highest) : FigureBlock
{
    private static readonly XPen Pen = new(Style.Black, 1.1) { LineCap = XLineCap.Round, LineJoin = XLineJoin.Round };

    private readonly double _width = Math.Min(width, highest * signature.Aspect);

    /// <inheritdoc/>
    protected override double Height => _width / signature.Aspect;

    /// <inheritdoc/>
    protected override string Alternative => alternative;

    /// <inheritdoc/>
    protected override void Paint(Sheet sheet, double left, double top)
    {
        foreach (var stroke in signature.Strokes)
        {
            Strokes.Paint(sheet.Ink, Pen, stroke, new XRect(left, top, _width, Height));
        }
    }
}

/// <summary>Lines drawn by hand.</summary>
internal static class Strokes
{
    /// <summary>Draws one stroke into a rectangle, staying within it by half the pen's width.</summary>
    public static void Paint(IInk ink, XPen pen, IReadOnlyList<InkPoint> points, XRect into)
    {
        var inset = Math.Min(pen.Width, Math.Min(into.Width, into.Height)) / 2;
        var drawn = points.Select(p => new XPoint(
            into.X + inset + (p.X * (into.Width - (2 * inset))), into.Y + inset + (p.Y * (into.Height - (2 * inset))))).ToArray();
        if (drawn is [var dot])
        {
            ink.Circle(null, new XSolidBrush(pen.Color), dot.X, dot.Y, pen.Width);
        }
        else if (drawn.Length > 1)
        {
            ink.Polyline(pen, drawn);
        }
    }
}
