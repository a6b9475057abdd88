using ShopDiag.Comebacks.Charts;
using ShopDiag.Reports.Models;

namespace ShopDiag.Web.Owner;

/// <summary>A chart laid out in numbers, handed to the papers: the same drawing as on the screen (<see cref="ChartSvg"/>).</summary>
public static class ChartOnPapers
{
    /// <summary>The chart.</summary>
    public static ChartOnPaper Of(Chart chart)
    {
        ArgumentNullException.ThrowIfNull(chart);
        return new()
        {
            Title = chart.Title,
            Description = chart.Description,
            Width = chart.Width,
            Height = chart.Height,
            TextSize = chart.TextSize,
            Areas = [.. chart.Areas.Select(a => new ChartAreaOnPaper(Fill(a.Pattern), a.X, a.Y, a.Width, a.Height))],
            Lines = [.. chart.Lines.Select(l => new ChartLineOnPaper(Stroke(l.Role), ChartSvg.Dashes(l.Pattern), [.. l.Points.Select(p => (p.X, p.Y))]))],
            Texts = [.. chart.Texts.Select(t => new ChartTextOnPaper(t.X, t.Baseline, t.Text, Anchor(t.Anchor)))],
        };
    }

    private static ChartFill Fill(AreaPattern pattern) => pattern switch
    {
        AreaPattern.Solid => ChartFill.Solid,
        AreaPattern.Blank => ChartFill.Blank,
        AreaPattern.Slanting => ChartFill.Slanting,
        AreaPattern.SlantingBack => ChartFill.SlantingBack,
        _ => throw new ArgumentOutOfRangeException(nameof(pattern), pattern, "Unknown filling."),
    };

    private static ChartStroke Stroke(ChartRole role) => role switch
    {
        ChartRole.Grid => ChartStroke.Grid,
        ChartRole.Curve or ChartRole.Whisker => ChartStroke.Strong,
        _ => ChartStroke.Thin,
    };

    private static ChartAnchor Anchor(TextAnchor anchor) => anchor switch
    {
        TextAnchor.Start => ChartAnchor.Start,
        TextAnchor.Middle => ChartAnchor.Middle,
        TextAnchor.End => ChartAnchor.End,
        _ => throw new ArgumentOutOfRangeException(nameof(anchor), anchor, "Unknown anchor."),
    };
}
