using PdfSharp.Drawing;
using ShopDiag.Reports.Layout;
using ShopDiag.Reports.Models;
using ShopDiag.Reports.Writing;

namespace ShopDiag.Reports.Drawing;

/// <summary>A measure at several places as level bars from zero, each with its figure; bad ones are hatched. The title stands above, as text.</summary>
internal sealed class BarChartFigure : FigureBlock
{
    private const double WidestLabel = 84;
    private const double WidestFigure = 110;

    private readonly Face _textFace;
    private readonly Face _boldFace;
    private readonly double _rowHeight;
    private readonly double _barHeight;
    private readonly double _labelWidth;
    private readonly double _figureWidth;
    private readonly string _title;
    private readonly List<(string Label, string Figure, double Share, bool Bad)> _bars;

    /// <summary>A chart of at least one bar.</summary>
    public BarChartFigure(MeasureChart chart, Typesetter set)
    {
        (_textFace, _boldFace) = (new Face(set.Look.Table, Bold: false), new Face(set.Look.Table, Bold: true));
        _rowHeight = set.Look.BarRow;
        _barHeight = _rowHeight * 0.6;
        var longest = chart.Bars.Max(b => b.Value);
        _title = set.Printable.OfTitle(chart.Title);
        _bars = [.. chart.Bars.Select(b => (
            set.Cut(Wording.Capital(b.At.ToString()), _boldFace, WidestLabel - 6),
            set.Cut(b.Text, _boldFace, WidestFigure - 8),
            longest > 0 ? Math.Max(0, b.Value) / longest : 0,
            b.Verdict is Verdict.Bad))];
        _labelWidth = 6 + _bars.Max(b => set.Width(b.Label, _boldFace));
        _figureWidth = 8 + _bars.Max(b => set.Width(b.Figure, _boldFace));
    }

    /// <inheritdoc/>
    protected override double Height => _bars.Count * _rowHeight;

    /// <inheritdoc/>
    protected override string Alternative =>
        $"Bar chart: {_title}. " + string.Join("; ", _bars.Select(b => $"{b.Label}: {b.Figure}{(b.Bad ? ", marked" : "")}")) + ".";

    /// <inheritdoc/>
    protected override void Paint(Sheet sheet, double left, double top)
    {
        var zero = left + _labelWidth;
        var y = top;
        sheet.Ink.Line(new XPen(Style.Black, 0.8), zero, y, zero, y + (_bars.Count * _rowHeight));
        foreach (var bar in _bars)
        {
            PaintBar(sheet, bar, left, zero, y);
            y += _rowHeight;
        }
    }

    private void PaintBar(Sheet sheet, (string Label, string Figure, double Share, bool Bad) bar, double left, double zero, double y)
    {
        var width = bar.Share * (sheet.Width - _labelWidth - _figureWidth);
        var top = y + ((_rowHeight - _barHeight) / 2);
        var face = bar.Bad ? _boldFace : _textFace;
        var baseline = y + (_rowHeight / 2) + (0.36 * face.Size);
        sheet.Ink.Text(bar.Label, face, Style.Black, left, baseline);
        if (width > 0)
        {
            sheet.Ink.Rectangle(
                new XPen(Style.Black, bar.Bad ? 1.2 : 0.6), bar.Bad ? XBrushes.White : new XSolidBrush(Style.Blue), zero, top, width, _barHeight);
        }

        if (bar.Bad)
        {
            Hatch(sheet.Ink, zero, top, width);
        }

        sheet.Ink.Text(bar.Figure, face, Style.Black, zero + width + 6, baseline);
    }

    private void Hatch(IInk ink, double left, double top, double width)
    {
        var pen = new XPen(Style.Vermilion, 1.1);
        for (var x = left + 1; x + _barHeight < left + width; x += 4.5)
        {
            ink.Line(pen, x, top + _barHeight - 0.6, x + _barHeight - 1, top + 0.6);
        }
    }
}
