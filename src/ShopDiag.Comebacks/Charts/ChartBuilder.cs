using System.Collections.Immutable;
using System.Globalization;

namespace ShopDiag.Comebacks.Charts;

/// <summary>A chart while it is laid out.</summary>
internal sealed class ChartBuilder(ChartSetting setting)
{
    private readonly ImmutableArray<ChartArea>.Builder _areas = ImmutableArray.CreateBuilder<ChartArea>();
    private readonly ImmutableArray<ChartLine>.Builder _lines = ImmutableArray.CreateBuilder<ChartLine>();
    private readonly ImmutableArray<ChartText>.Builder _texts = ImmutableArray.CreateBuilder<ChartText>();

    /// <summary>The room.</summary>
    public ChartSetting Setting => setting;

    /// <summary>A share in percent with one decimal, as the tables beside the charts write it.</summary>
    public static string Percent(double share) =>
        Math.Round(share * 100, 1, MidpointRounding.AwayFromZero).ToString("0.0", CultureInfo.CurrentCulture) + " %";

    /// <summary>A tick of an axis in percent: round numbers stand there without decimals.</summary>
    public static string Tick(double share) =>
        Math.Round(share * 100, 2, MidpointRounding.AwayFromZero).ToString("0.##", CultureInfo.CurrentCulture) + " %";

    /// <summary>An interval of shares.</summary>
    public static string Percent(Statistics.Interval interval) => $"{Percent(interval.Low)} to {Percent(interval.High)}";

    public void Area(ChartRole role, AreaPattern pattern, int series, double x, double y, double width, double height) =>
        _areas.Add(new(role, pattern, series, x, y, Math.Max(0, width), Math.Max(0, height)));

    public void Line(ChartRole role, LinePattern pattern, int series, params ReadOnlySpan<ChartPoint> points) => _lines.Add(new(role, pattern, series, [.. points]));

    public void Text(double x, double baseline, string text, TextAnchor anchor)
    {
        if (text.Length > 0)
        {
            _texts.Add(new(x, baseline, text, anchor));
        }
    }

    /// <summary>
    /// A level axis with its ticks, upright lines at them up to a height, and the text under it. As many ticks as have room beside each other, at least two unless even
    /// they would touch. Half of the widest label must have room on either side of the axis.
    /// </summary>
    public void LevelAxis(Span along, Span shown, double y, double gridTop, Func<double, string> label, string title)
    {
        var most = Math.Max(2, (int)((along.To - along.From) / (setting.TextSize * 2)));
        double[] ticks;
        do
        {
            ticks = NiceTicks.Of(shown.From, shown.To, most);
        }
        while (!HaveRoom(ticks) && --most >= 2);
        if (!HaveRoom(ticks))
        {
            ticks = ticks[..1];
        }

        Line(ChartRole.Axis, LinePattern.Solid, 0, new ChartPoint(along.From, y), new(along.To, y));
        foreach (var tick in ticks)
        {
            var x = along.At(shown.ShareOf(tick));
            Line(ChartRole.Grid, LinePattern.Dotted, 0, new ChartPoint(x, gridTop), new(x, y));
            Text(x, y + setting.LineHeight, label(tick), TextAnchor.Middle);
        }

        Text((along.From + along.To) / 2, y + (2 * setting.LineHeight), FittingTitle(), TextAnchor.Middle);

        // Centred under the axis and within the chart on both sides.
        string FittingTitle()
        {
            var middle = (along.From + along.To) / 2;
            return setting.Cut(title, 2 * Math.Min(middle, setting.Width - middle));
        }

        bool HaveRoom(double[] all) => all.Zip(all.Skip(1)).All(p =>
            (setting.WidthOf(label(p.First)) / 2) + (setting.WidthOf(label(p.Second)) / 2) + setting.Gap <= along.At(shown.ShareOf(p.Second)) - along.At(shown.ShareOf(p.First)));
    }

    /// <summary>An upright axis in percent with level lines at its ticks.</summary>
    public void PercentAxis(Span up, Span shown, double x, double gridRight)
    {
        var most = Math.Max(2, (int)((up.From - up.To) / (setting.LineHeight * 1.3)));
        Line(ChartRole.Axis, LinePattern.Solid, 0, new ChartPoint(x, up.From), new(x, up.To));
        foreach (var tick in NiceTicks.Of(shown.From * 100, shown.To * 100, most))
        {
            var y = up.At(shown.ShareOf(tick / 100));
            Line(ChartRole.Grid, LinePattern.Dotted, 0, new ChartPoint(x, y), new(gridRight, y));
            Text(x - setting.Gap, y + (setting.TextSize * 0.35), Tick(tick / 100), TextAnchor.End);
        }
    }

    public Chart Finish(string title, string description, ChartTable table, double height) => new()
    {
        Width = setting.Width,
        Height = height,
        TextSize = setting.TextSize,
        Title = title,
        Description = description,
        Areas = _areas.ToImmutable(),
        Lines = _lines.ToImmutable(),
        Texts = _texts.ToImmutable(),
        Table = table,
    };
}

/// <summary>From somewhere to somewhere; the second may be the smaller.</summary>
internal readonly record struct Span(double From, double To)
{
    /// <summary>The place at a share of the way.</summary>
    public double At(double share) => From + ((To - From) * share);

    /// <summary>The share of the way at which a place lies, held to 0 to 1.</summary>
    public double ShareOf(double place) => Math.Clamp((place - From) / (To - From), 0, 1);
}
