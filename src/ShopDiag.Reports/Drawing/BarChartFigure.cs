using PdfSharp.Drawing;
using ShopDiag.Reports.Layout;
using ShopDiag.Reports.Models;
using ShopDiag.Reports.Writing;

namespace ShopDiag.Reports.Drawing;

/// <summary>A measure at several places as level bars from zero, each with its figure; bad ones are hatched. The title stands above, as text.</summary>
internal sealed class BarChartFigure : FigureBlock
{
    private const double RowHeight = 15;
    private const double BarHeight = 9;
    private const double LabelWidth = 84;
    private const double FigureWidth = 110;
    private static readonly Face TextFace = new(Style.Table, Bold: false);
    private static readonly Face BoldFace = new(Style.Table, Bold: true);

    private readonly string _title;
    private readonly List<(string Label, string Figure, double Share, bool Bad)> _bars;

    /// <summary>A chart of at least one bar.</summary>
    public BarChartFigure(MeasureChart chart, Typesetter set)
    {
        var longest = chart.Bars.Max(b => b.Value);
        _title = set.Printable.OfTitle(chart.Title);
        _bars = [.. chart.Bars.Select(b => (
            set.Cut(Wording.Capital(b.At.ToString()), TextFace, LabelWidth - 4),
            set.Cut(b.Text, BoldFace, FigureWidth - 8),
            longest > 0 ? Math.Max(0, b.Value) / longest : 0,
            b.Verdict is Verdict.Bad))];
    }

    /// <inheritdoc/>
    protected override double Height => _bars.Count * RowHeight;

    /// <inheritdoc/>
    protected override string Alternative =>
        $"Bar chart: {_title}. " + string.Join("; ", _bars.Select(b => $"{b.Label}: {b.Figure}{(b.Bad ? ", marked" : "")}")) + ".";

    /// <inheritdoc/>
    protected override void Paint(Sheet sheet, double left, double top)
    {
        var zero = left + LabelWidth;
        var y = top;
        sheet.Ink.Line(new XPen(Style.Black, 0.8), zero, y, zero, y + (_bars.Count * RowHeight));
        foreach (var bar in _bars)
        {
            PaintBar(sheet, bar, left, zero, y);
            y += RowHeight;
        }
    }

    private static void PaintBar(Sheet sheet, (string Label, string Figure, double Share, bool Bad) bar, double left, double zero, double y)
    {
        var width = bar.Share * (sheet.Width - LabelWidth - FigureWidth);
        var top = y + ((RowHeight - BarHeight) / 2);
        var face = bar.Bad ? BoldFace : TextFace;
        var baseline = y + 11;
        sheet.Ink.Text(bar.Label, face, Style.Black, left, baseline);
        if (width > 0)
        {
            sheet.Ink.Rectangle(
                new XPen(Style.Black, bar.Bad ? 1.2 : 0.6), bar.Bad ? XBrushes.White : new XSolidBrush(Style.Blue), zero, top, width, BarHeight);
        }

        if (bar.Bad)
        {
            Hatch(sheet.Ink, zero, top, width);
        }

        sheet.Ink.Text(bar.Figure, face, Style.Black, zero + width + 6, baseline);
    }

    private static void Hatch(IInk ink, double left, double top, double width)
    {
        var pen = new XPen(Style.Vermilion, 1.1);
        for (var x = left + 1; x + BarHeight < left + width; x += 4.5)
        {
            ink.Line(pen, x, top + BarHeight - 0.6, x + BarHeight - 1, top + 0.6);
        }
    }
}
