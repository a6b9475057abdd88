using System.Collections.Immutable;
using System.Globalization;
using ShopDiag.Comebacks.Figures;
using ShopDiag.Comebacks.Statistics;

namespace ShopDiag.Comebacks.Charts;

/// <summary>One bar of a chart of rates.</summary>
/// <param name="Name">What it is of.</param>
/// <param name="Hits">How many, from 0.</param>
/// <param name="Cases">Of how many, from 1.</param>
public sealed record RateBar(string Name, int Hits, int Cases)
{
    /// <summary>The share, 0 to 1.</summary>
    public double Share => (double)Hits / Cases;

    /// <summary>Its Wilson 95 % interval.</summary>
    public Interval Interval => Proportions.Wilson(Hits, Cases);

    /// <summary>True when it rests on small numbers: it is then drawn empty.</summary>
    public bool IsSmall => SmallNumbers.AreSmall(Cases);
}

/// <summary>Rates as level bars from zero with the interval about their end; bars of small numbers are empty with a dashed outline.</summary>
public static class RateBarChart
{
    private const double NameShare = 0.32;

    /// <summary>Share of the width that is left to the bars: with less, their lengths can no longer be compared.</summary>
    private const double BarShare = 0.2;

    /// <summary>
    /// Lays the chart out, bars in the order given. Where the height is too small for all, the first ones are drawn and a line says how many more are in the table.
    /// </summary>
    public static Chart Layout(string title, IReadOnlyList<RateBar> bars, ChartSetting setting)
    {
        ArgumentNullException.ThrowIfNull(bars);
        ArgumentNullException.ThrowIfNull(setting);
        var build = new ChartBuilder(setting);
        var room = setting.Height - setting.AxisHeight;
        var slots = (int)(room / setting.LineHeight);
        var drawn = bars.Take(bars.Count <= slots ? slots : slots - 1).ToArray();
        var rows = Math.Min(bars.Count, drawn.Length + 1);
        var row = Math.Min(room / Math.Max(1, rows), setting.LineHeight * 1.8);
        var bottom = Math.Max(1, rows) * row;
        var most = bars.Count == 0 ? 1 : Math.Clamp(NiceTicks.Above(bars.Max(b => b.Interval.High)), 0.01, 1);
        Func<RateBar, string> figure = HoldsCounts(drawn, setting) ? Figure : b => ChartBuilder.Percent(b.Share);
        var (along, shown) = (Room(drawn, figure, setting), new Span(0, most));
        for (var i = 0; i < drawn.Length; i++)
        {
            Draw(build, drawn[i], figure(drawn[i]), along, shown, i * row, row);
        }

        if (drawn.Length < bars.Count)
        {
            build.Text(0, Baseline(setting, drawn.Length * row, row), setting.Cut($"and {(bars.Count - drawn.Length).ToString(CultureInfo.CurrentCulture)} more in the table", setting.Width), TextAnchor.Start);
        }

        build.LevelAxis(along, shown, bottom, 0, v => ChartBuilder.Tick(v), "Came back");
        return build.Finish(title, Describe(bars), TableOf(bars), bottom + setting.AxisHeight);
    }

    /// <summary>True when beside every bar there is room for the rate with its counts. A number that is cut says another number, so otherwise the counts stand in the table only.</summary>
    private static bool HoldsCounts(RateBar[] bars, ChartSetting setting) =>
        Names(bars, setting) + Widest(bars, Figure, setting) + (2 * setting.Gap) <= setting.Width * (1 - BarShare);

    /// <summary>From the names on the left to the figures on the right; a tick's label at either end stays on the chart.</summary>
    private static Span Room(RateBar[] bars, Func<RateBar, string> figure, ChartSetting setting)
    {
        var half = setting.WidthOf(ChartBuilder.Tick(0.5555)) / 2;
        return new(Math.Max(half, Names(bars, setting) + setting.Gap), setting.Width - Math.Max(half, Widest(bars, figure, setting) + setting.Gap));
    }

    private static double Names(RateBar[] bars, ChartSetting setting) => Math.Min(Widest(bars, b => b.Name, setting), setting.Width * NameShare);

    private static double Widest(RateBar[] bars, Func<RateBar, string> text, ChartSetting setting) => bars.Select(b => setting.WidthOf(text(b))).DefaultIfEmpty(0).Max();

    private static void Draw(ChartBuilder build, RateBar bar, string figure, Span along, Span shown, double top, double row)
    {
        var setting = build.Setting;
        var (height, middle) = (row * 0.55, top + (row / 2));
        double X(double share) => along.At(shown.ShareOf(share));
        build.Area(ChartRole.Bar, bar.IsSmall ? AreaPattern.Blank : AreaPattern.Solid, 0, along.From, middle - (height / 2), X(bar.Share) - along.From, height);
        var (low, high, cap) = (X(bar.Interval.Low), X(bar.Interval.High), height * 0.3);
        build.Line(ChartRole.Whisker, LinePattern.Solid, 0, new ChartPoint(low, middle), new(high, middle));
        build.Line(ChartRole.Whisker, LinePattern.Solid, 0, new ChartPoint(low, middle - cap), new(low, middle + cap));
        build.Line(ChartRole.Whisker, LinePattern.Solid, 0, new ChartPoint(high, middle - cap), new(high, middle + cap));
        build.Text(0, Baseline(setting, top, row), setting.Cut(bar.Name, along.From - setting.Gap), TextAnchor.Start);
        build.Text(setting.Width, Baseline(setting, top, row), figure, TextAnchor.End);
    }

    private static double Baseline(ChartSetting setting, double top, double row) => top + (row / 2) + (setting.TextSize * 0.35);

    private static string Figure(RateBar bar) => $"{ChartBuilder.Percent(bar.Share)}, {Of(bar)}";

    private static string Of(RateBar bar) => string.Create(CultureInfo.CurrentCulture, $"{bar.Hits:N0} of {bar.Cases:N0}");

    private static string Describe(IReadOnlyList<RateBar> bars) => bars.Count == 0
        ? "No repairs."
        : $"Bars with 95 % intervals. {string.Join("; ", bars.Select(b => $"{b.Name}: {Figure(b)}{(b.IsSmall ? ", small numbers" : "")}"))}.";

    private static ChartTable TableOf(IReadOnlyList<RateBar> bars) => new(
        ["", "Repairs", "Came back", "Rate", "95 % interval", "Remark"],
        [.. bars.Select(b => ImmutableArray.Create(b.Name, Count(b.Cases), Count(b.Hits), ChartBuilder.Percent(b.Share), ChartBuilder.Percent(b.Interval), SmallNumbers.Remark(b.Cases) ?? ""))]);

    private static string Count(int number) => number.ToString("N0", CultureInfo.CurrentCulture);
}
