using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using System.Text.Encodings.Web;
using ShopDiag.Comebacks.Charts;

namespace ShopDiag.Web.Owner;

/// <summary>The inside of an SVG drawing of a chart. Curves differ by their dashes and areas by their hatching; colour says nothing that these do not.</summary>
public static class ChartSvg
{
    /// <summary>The elements, areas first, then lines, then texts. Texts are encoded.</summary>
    /// <param name="chart">The chart.</param>
    /// <param name="id">Begins the ids of the patterns; no other drawing of the page has it.</param>
    public static string Inside(Chart chart, string id)
    {
        ArgumentNullException.ThrowIfNull(chart);
        var svg = new StringBuilder();
        svg.Append(Hatching($"{id}-there", 45)).Append(Hatching($"{id}-back", -45));
        foreach (var area in chart.Areas)
        {
            svg.Append(CultureInfo.InvariantCulture, $"<rect class=\"ch-{Word(area.Role)} {Class(area.Pattern)}\" x=\"{area.X:0.##}\" y=\"{area.Y:0.##}\" width=\"{area.Width:0.##}\" height=\"{area.Height:0.##}\"{Fill(area.Pattern, id)}/>");
        }

        foreach (var line in chart.Lines)
        {
            var points = string.Join(' ', line.Points.Select(p => string.Create(CultureInfo.InvariantCulture, $"{p.X:0.##},{p.Y:0.##}")));
            svg.Append(CultureInfo.InvariantCulture, $"<polyline class=\"ch-{Word(line.Role)}\" points=\"{points}\"{DashArray(line.Pattern)}/>");
        }

        foreach (var text in chart.Texts)
        {
            svg.Append(CultureInfo.InvariantCulture, $"<text class=\"ch-label\" x=\"{text.X:0.##}\" y=\"{text.Baseline:0.##}\" font-size=\"{chart.TextSize:0.##}\" text-anchor=\"{Word(text.Anchor)}\">{HtmlEncoder.Default.Encode(text.Text)}</text>");
        }

        return svg.ToString();
    }

    private static string Hatching(string id, int degrees) => string.Create(
        CultureInfo.InvariantCulture,
        $"<defs><pattern id=\"{id}\" width=\"8\" height=\"8\" patternUnits=\"userSpaceOnUse\" patternTransform=\"rotate({degrees})\"><line class=\"ch-hatch\" x1=\"0\" y1=\"0\" x2=\"0\" y2=\"8\"/></pattern></defs>");

    private static string Fill(AreaPattern pattern, string id) => pattern switch
    {
        AreaPattern.Slanting => $" fill=\"url(#{id}-there)\"",
        AreaPattern.SlantingBack => $" fill=\"url(#{id}-back)\"",
        AreaPattern.Blank => " fill=\"none\" stroke-dasharray=\"4 3\"",
        _ => "",
    };

    private static string Class(AreaPattern pattern) => pattern == AreaPattern.Blank ? "ch-blank" : pattern == AreaPattern.Solid ? "ch-solid" : "";

    /// <summary>Dashes and gaps in turn; empty for an unbroken line.</summary>
    public static ImmutableArray<double> Dashes(LinePattern pattern) => pattern switch
    {
        LinePattern.Dashed => [8, 5],
        LinePattern.Dotted => [2, 4],
        LinePattern.DashDot => [9, 4, 2, 4],
        LinePattern.LongDash => [16, 6],
        LinePattern.LongDashDots => [16, 4, 2, 4, 2, 4],
        _ => [],
    };

    private static string DashArray(LinePattern pattern) => Dashes(pattern) is { IsEmpty: false } dashes
        ? $" stroke-dasharray=\"{string.Join(' ', dashes.Select(d => d.ToString(CultureInfo.InvariantCulture)))}\""
        : "";

    private static string Word<T>(T value)
        where T : struct, Enum => value.ToString().ToLowerInvariant();
}
