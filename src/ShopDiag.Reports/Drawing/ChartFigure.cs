using PdfSharp.Drawing;
using ShopDiag.Reports.Layout;
using ShopDiag.Reports.Models;

namespace ShopDiag.Reports.Drawing;

/// <summary>Draws a chart that was laid out elsewhere. The title stands above, as text.</summary>
internal sealed class ChartFigure(ChartOnPaper chart, double width, Typesetter set) : FigureBlock
{
    private const double Spacing = 6;
    private static readonly XColor Pale = XColor.FromArgb(225, 225, 225);

    private readonly double _scale = width / chart.Width;

    /// <inheritdoc/>
    protected override double Height => Math.Min(chart.Height * _scale, width);

    /// <inheritdoc/>
    protected override string Alternative => set.Printable.OfTitle(chart.Description);

    /// <inheritdoc/>
    protected override void Paint(Sheet sheet, double left, double top)
    {
        foreach (var area in chart.Areas)
        {
            Paint(sheet.Ink, area, left, top);
        }

        foreach (var line in chart.Lines)
        {
            sheet.Ink.Polyline(Pen(line), [.. line.Points.Select(p => new XPoint(left + (p.X * _scale), top + (p.Y * _scale)))]);
        }

        var face = new Face(chart.TextSize * _scale, Bold: false);
        foreach (var text in chart.Texts)
        {
            // What does not fit stands whole in the table beside the chart.
            var x = text.X * _scale;
            var room = text.Anchor switch { ChartAnchor.Start => width - x, ChartAnchor.Middle => 2 * Math.Min(x, width - x), _ => x };
            var printed = set.Cut(text.Text, face, room);
            var before = text.Anchor switch { ChartAnchor.Start => 0, ChartAnchor.Middle => set.Width(printed, face) / 2, _ => set.Width(printed, face) };
            sheet.Ink.Text(printed, face, Style.Black, left + x - before, top + (text.Baseline * _scale));
        }
    }

    private XPen Pen(ChartLineOnPaper line)
    {
        var pen = line.Stroke switch
        {
            ChartStroke.Grid => new XPen(Style.Grey, 0.4),
            ChartStroke.Thin => new XPen(Style.Black, 0.6),
            ChartStroke.Strong => new XPen(Style.Black, 1.3),
            _ => throw new ArgumentOutOfRangeException(nameof(line), line.Stroke, "Unknown strength of line."),
        };
        if (!line.Dashes.IsEmpty)
        {
            // The pen counts dashes in its own width.
            pen.DashPattern = [.. line.Dashes.Select(d => d * _scale / pen.Width)];
        }

        return pen;
    }

    private void Paint(IInk ink, ChartAreaOnPaper area, double left, double top)
    {
        var (x, y, wide, high) = (left + (area.X * _scale), top + (area.Y * _scale), area.Width * _scale, area.Height * _scale);
        switch (area.Fill)
        {
            case ChartFill.Solid:
                ink.Rectangle(new XPen(Style.Black, 0.6), new XSolidBrush(Pale), x, y, wide, high);
                break;
            case ChartFill.Blank:
                ink.Rectangle(new XPen(Style.Black, 0.8) { DashStyle = XDashStyle.Dash }, null, x, y, wide, high);
                break;
            case ChartFill.Slanting:
                Hatch(ink, x, y, wide, high, 1);
                break;
            case ChartFill.SlantingBack:
                Hatch(ink, x, y, wide, high, -1);
                break;
            default:
                throw new ArgumentOutOfRangeException(nameof(area), area.Fill, "Unknown filling.");
        }
    }

    // Lines x + slope * y = c for every multiple c of the spacing, cut to the rectangle by arithmetic: those of neighbouring rectangles meet, and clipping would break the marked content apart.
    private static void Hatch(IInk ink, double x, double y, double wide, double high, int slope)
    {
        var pen = new XPen(Style.Grey, 0.5);
        var (least, most) = slope > 0 ? (x + y, x + wide + y + high) : (x - y - high, x + wide - y);
        for (var c = Math.Ceiling(least / Spacing) * Spacing; c < most; c += Spacing)
        {
            // Where the line is within the rectangle from top to bottom, and from edge to edge.
            var (a, b) = ((c - x) * slope, (c - x - wide) * slope);
            var (from, to) = (Math.Max(y, Math.Min(a, b)), Math.Min(y + high, Math.Max(a, b)));
            if (from < to)
            {
                ink.Line(pen, c - (slope * from), from, c - (slope * to), to);
            }
        }
    }
}
