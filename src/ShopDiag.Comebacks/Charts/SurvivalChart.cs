using System.Collections.Immutable;
using System.Globalization;
using ShopDiag.Comebacks.Statistics;

namespace ShopDiag.Comebacks.Charts;

/// <summary>One curve of a chart.</summary>
/// <param name="Name">What it is of.</param>
/// <param name="Curve">The curve.</param>
/// <param name="IsSmall">True when it rests on small numbers: its name then says so.</param>
public sealed record SurvivalSeries(string Name, SurvivalCurve Curve, bool IsSmall);

/// <summary>The level axis of a chart of curves.</summary>
/// <param name="Title">What stands under it.</param>
/// <param name="Until">Where it ends, above 0; curves are drawn no further.</param>
/// <param name="TableAt">Where the table reads the curves.</param>
/// <param name="InOne">What one of the axis is in the unit of the curves, above 0: 1.609344 for miles, since distances of repairs are kept in kilometres.</param>
public sealed record SurvivalAxis(string Title, int Until, ImmutableArray<int> TableAt, double InOne = 1)
{
    /// <summary>A place on the axis in the unit of the curves.</summary>
    public int InCurve(int at) => (int)Math.Round(at * InOne, MidpointRounding.AwayFromZero);

    /// <summary>Days since hand-over, a little over a year.</summary>
    public static SurvivalAxis Days { get; } = new("Days since hand-over", 400, Figures.OwnerFigures.Days);

    /// <summary>Kilometres since the repair.</summary>
    public static SurvivalAxis Kilometres { get; } = new("Kilometres since the repair", 25_000, Figures.OwnerFigures.Kilometres);

    /// <summary>Miles since the repair.</summary>
    public static SurvivalAxis Miles { get; } = new("Miles since the repair", 15_000, [3_000, 6_000, 12_000], 1.609344);
}

/// <summary>
/// Share still good over time or distance: steps, with their band and a mark where repairs stopped being watched. Curves are told apart by their dashes. The upright
/// axis begins at a multiple of ten percent below all that is drawn, which the description says when it is not 0.
/// </summary>
public static class SurvivalChart
{
    /// <summary>Curves that can be told apart by their dashes: 6. Further ones stand in the table only.</summary>
    public const int MostCurves = 6;

    /// <summary>Curves up to which bands are drawn: 2. More would lie over each other; they are in the table.</summary>
    public const int MostBands = 2;

    /// <summary>Lays the chart out. Curves of which nothing is known are named and not drawn.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The axis has no length.</exception>
    public static Chart Layout(string title, IReadOnlyList<SurvivalSeries> series, SurvivalAxis axis, ChartSetting setting)
    {
        ArgumentNullException.ThrowIfNull(series);
        ArgumentNullException.ThrowIfNull(axis);
        ArgumentNullException.ThrowIfNull(setting);
        ArgumentOutOfRangeException.ThrowIfLessThan(axis.Until, 1, nameof(axis));
        var drawn = series.Take(MostCurves).Select((s, i) => new CurveDrawing(s, i, axis.InCurve(axis.Until), WithBand: series.Count <= MostBands)).ToArray();
        var build = new ChartBuilder(setting);
        var top = Legend(build, drawn);
        var lowest = Math.Floor(10 * drawn.Select(d => d.Lowest).DefaultIfEmpty(0).Min()) / 10;
        var shown = new Span(Math.Min(lowest, 0.9), 1);
        var right = setting.Width - Math.Max(setting.Gap, setting.WidthOf(Number(axis.Until)) / 2);
        var along = new Span(setting.WidthOf(ChartBuilder.Percent(0.995)) + (2 * setting.Gap), right);
        var up = new Span(setting.Height - setting.AxisHeight, top + (setting.TextSize * 0.6));
        build.PercentAxis(up, shown, along.From, along.To);
        build.LevelAxis(along, new(0, axis.Until), up.From, up.To, Number, axis.Title);
        foreach (var curve in drawn)
        {
            curve.Draw(build, along, up, shown);
        }

        return build.Finish(title, Describe(series, axis, shown.From), TableOf(series, axis), setting.Height);
    }

    private static double Legend(ChartBuilder build, CurveDrawing[] drawn)
    {
        var setting = build.Setting;
        var sample = setting.TextSize * 2.5;
        var (x, y) = (0.0, setting.LineHeight);
        foreach (var curve in drawn)
        {
            var name = setting.Cut(curve.Name, setting.Width - sample - (2 * setting.Gap));
            var width = sample + setting.Gap + setting.WidthOf(name);
            if (x > 0 && x + width > setting.Width)
            {
                (x, y) = (0, y + setting.LineHeight);
            }

            var middle = y - (setting.TextSize * 0.3);
            build.Line(ChartRole.Curve, curve.Pattern, curve.Series, new ChartPoint(x, middle), new(x + sample, middle));
            build.Text(x + sample + setting.Gap, y, name, TextAnchor.Start);
            x += width + (2 * setting.Gap);
        }

        return drawn.Length == 0 ? setting.TextSize * 0.4 : y + (setting.TextSize * 0.4);
    }

    private static string Describe(IReadOnlyList<SurvivalSeries> series, SurvivalAxis axis, double from)
    {
        var last = axis.TableAt.IsEmpty ? axis.Until : axis.TableAt[^1];
        var read = series.Select(s => s.Curve.At(axis.InCurve(last)) is { } point
            ? $"{s.Name}: {ChartBuilder.Percent(point.Survival)} still good at {Number(last)}, 95 % interval {ChartBuilder.Percent(point.Band)}"
            : $"{s.Name}: not known at {Number(last)}");
        var cut = from > 0 ? $" The upright axis begins at {ChartBuilder.Tick(from)}." : "";
        return $"Share still good, {char.ToLower(axis.Title[0], CultureInfo.CurrentCulture)}{axis.Title[1..]}. {string.Join("; ", read)}.{cut}";
    }

    private static ChartTable TableOf(IReadOnlyList<SurvivalSeries> series, SurvivalAxis axis) => new(
        ["", axis.Title, "Still good", "95 % interval", "Watched that long"],
        [.. series.SelectMany(s => axis.TableAt.Select(at => Row(s, at, axis.InCurve(at))))]);

    private static ImmutableArray<string> Row(SurvivalSeries series, int at, int inCurve) => series.Curve.At(inCurve) is { } point
        ? [series.Name, Number(at), ChartBuilder.Percent(point.Survival), ChartBuilder.Percent(point.Band), Number(point.AtRisk)]
        : [series.Name, Number(at), "not known", "not known", "0"];

    private static string Number(double value) => value.ToString("N0", CultureInfo.CurrentCulture);
}
