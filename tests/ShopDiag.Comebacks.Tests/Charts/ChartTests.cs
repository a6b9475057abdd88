using System.Globalization;
using CsCheck;
using ShopDiag.Comebacks.Charts;
using ShopDiag.Comebacks.Statistics;
using ShopDiag.Comebacks.Tests.Statistics;

namespace ShopDiag.Comebacks.Tests.Charts;

public sealed class ChartTests
{
    private static readonly ChartSetting Wide = new(600, 320, 12);

    private static readonly Gen<ChartSetting> Settings = Gen.Select(Gen.Double[6, 30], Gen.Double[20, 90], Gen.Double[18, 60]).Select((size, wide, high) => new ChartSetting(wide * size, high * size, size));

    private static readonly Gen<string> Names = Gen.OneOf(Gen.String[Gen.Char['A', 'z'], 0, 40], Gen.Const("Øyvind's Werkstatt & Söhne"), Gen.Const("整備工場"), Gen.Const(""));

    private static readonly Gen<SurvivalSeries[]> Series = Gen.Select(
        Names, Gen.Select(Gen.Int[0, 900], Gen.Bool, (t, h) => new Observation(t, h)).Array[0, 80], Gen.Bool,
        (name, watched, small) => new SurvivalSeries(name, KaplanMeier.Of(watched), small)).Array[0, 8];

    private static readonly Gen<RateBar[]> Bars =
        Gen.Select(Names, Gen.Int[1, 3000], Gen.Double[0, 1], (name, cases, share) => new RateBar(name, (int)(cases * share * share * share), cases)).Array[0, 40];

    [Fact]
    public void Texts_of_curves_never_overlap_and_all_lies_in_the_chart() =>
        Gen.Select(Series, Settings, Gen.Int[1, 500_000]).Sample((series, setting, until) => Holds(SurvivalChart.Layout("t", series, new("Kilometres since the repair", until, [until]), setting), setting));

    [Fact]
    public void Texts_of_bars_never_overlap_and_all_lies_in_the_chart() =>
        Gen.Select(Bars, Settings).Sample((bars, setting) => Holds(RateBarChart.Layout("t", bars, setting), setting));

    /// <summary>Counts of up to seven figures in every width that a chart may have: a number that is cut says another number.</summary>
    [Fact]
    public void Figures_beside_bars_are_never_cut_and_stand_with_their_counts_where_half_of_the_width_holds_them() =>
        Gen.Select(Gen.Int[1, 2_000_000], Gen.Double[0, 1], Gen.Double[20, 120], Gen.Double[6, 30]).Sample((cases, share, wide, size) =>
        {
            var setting = new ChartSetting(wide * size, 30 * size, size);
            var bar = new RateBar(new string('a', 60), (int)(cases * share), cases);
            var rate = $"{Math.Round(100.0 * bar.Hits / cases, 1, MidpointRounding.AwayFromZero).ToString("0.0", CultureInfo.InvariantCulture)} %";
            var whole = $"{rate}, {bar.Hits.ToString("N0", CultureInfo.InvariantCulture)} of {cases.ToString("N0", CultureInfo.InvariantCulture)}";
            var drawn = Assert.Single(RateBarChart.Layout("t", [bar], setting).Texts, t => t.Anchor == TextAnchor.End).Text;
            Assert.Contains(drawn, new[] { rate, whole });
            Assert.True(drawn == whole || setting.TextWidth(whole, size) > (setting.Width * 0.48) - (1.2 * size));
        });

    [Fact]
    public void The_published_curve_is_drawn_as_its_steps_with_band_and_marks()
    {
        var curve = KaplanMeier.Of(PublishedData.SixMp);
        var chart = SurvivalChart.Layout("Still in remission", [new("6-MP", curve, false)], new("Weeks", 36, [10, 23, 36]), Wide);
        var line = Assert.Single(chart.Lines, l => l.Role == ChartRole.Curve && l.Points.Length > 2);

        // The start, two corners for each of seven steps, and the end; every piece is level or upright, and it only falls.
        Assert.Equal(16, line.Points.Length);
        Assert.All(line.Points.Zip(line.Points.Skip(1)), p => Assert.True(p.First.X == p.Second.X ? p.Second.Y > p.First.Y : p.First.Y == p.Second.Y && p.Second.X > p.First.X));
        Assert.Equal(8, chart.Areas.Count(a => a.Role == ChartRole.Band));
        Assert.InRange(chart.Lines.Count(l => l.Role == ChartRole.Censored), 8, 12);
        Assert.Equal(["6-MP", "23", "44.8 %", "18.8 % to 68.0 %", "6"], chart.Table.Rows[1]);
        Assert.Equal(["6-MP", "36", "not known", "not known", "0"], chart.Table.Rows[2]);
        Assert.Contains("The upright axis begins at 10 %.", chart.Description, StringComparison.Ordinal);
    }

    [Fact]
    public void Heights_are_in_proportion_to_the_shares()
    {
        var curve = KaplanMeier.Of([new(10, true), new(20, true), new(30, false), new(30, false)]);
        var chart = SurvivalChart.Layout("t", [new("a", curve, false), new("b", curve, false), new("c", curve, false)], new("Days", 30, [30]), Wide);
        var heights = chart.Lines.First(l => l.Role == ChartRole.Curve && l.Points.Length > 2).Points.Select(p => p.Y).Distinct().ToArray();

        Assert.Equal(heights[1] - heights[0], heights[2] - heights[1], 1e-9);
    }

    [Fact]
    public void A_curve_of_kilometres_stands_on_an_axis_of_miles_where_it_belongs()
    {
        // 10,000 miles are 16,093 km: one came back just before, one was watched on.
        var curve = KaplanMeier.Of([new(16_000, true), new(30_000, false)]);
        var kilometres = SurvivalChart.Layout("t", [new("a", curve, false)], new("km", 32_187, [16_093]), Wide);
        var miles = SurvivalChart.Layout("t", [new("a", curve, false)], new("mi", 20_000, [10_000], 1.609344), Wide);
        double Step(Chart chart) => chart.Lines.Single(l => l.Role == ChartRole.Curve && l.Points.Length > 2).Points[1].X;

        Assert.Equal(["a", "10,000", "50.0 %"], miles.Table.Rows[0].Take(3));
        Assert.Equal(Step(kilometres) / Wide.Width, Step(miles) / Wide.Width, 0.02);
        Assert.Equal((4_828, 9_656, 19_312), (SurvivalAxis.Miles.InCurve(3_000), SurvivalAxis.Miles.InCurve(6_000), SurvivalAxis.Miles.InCurve(12_000)));
    }

    [Fact]
    public void Curves_are_told_apart_by_their_dashes_and_more_than_six_stand_in_the_table()
    {
        SurvivalSeries[] series = [.. Enumerable.Range(0, 8).Select(i => new SurvivalSeries($"Group {i}", KaplanMeier.Of(PublishedData.Placebo), i == 1))];
        var chart = SurvivalChart.Layout("t", series, SurvivalAxis.Days, Wide);

        Assert.Equal(6, chart.Lines.Where(l => l.Role == ChartRole.Curve).Select(l => l.Pattern).Distinct().Count());
        Assert.Empty(chart.Areas);
        Assert.Equal(8 * SurvivalAxis.Days.TableAt.Length, chart.Table.Rows.Length);
        Assert.Contains(chart.Texts, t => t.Text == "Group 1 (small numbers)");
    }

    [Fact]
    public void A_curve_of_two_hundred_thousand_is_no_larger_than_can_be_seen()
    {
        var curve = KaplanMeier.Of(Enumerable.Range(0, 200_000).Select(i => new Observation(i / 2, i % 3 == 0)));
        var chart = SurvivalChart.Layout("t", [new("All", curve, false)], new("Days", 100_000, [50_000]), Wide);

        Assert.InRange(chart.Lines.Sum(l => l.Points.Length) + chart.Areas.Length, 100, 4_000);
    }

    [Fact]
    public void Bars_end_at_their_share_and_whiskers_at_their_interval()
    {
        RateBar[] bars = [new("Kim", 10, 100), new("Lee", 20, 100), new("Sam", 1, 4)];
        var chart = RateBarChart.Layout("t", bars, Wide);
        var areas = chart.Areas.Where(a => a.Role == ChartRole.Bar).ToArray();
        var whiskers = chart.Lines.Where(l => l.Role == ChartRole.Whisker && l.Points[0].Y == l.Points[1].Y).ToArray();

        Assert.Equal(areas[0].Width * 2, areas[1].Width, 1e-9);
        Assert.Equal([AreaPattern.Solid, AreaPattern.Solid, AreaPattern.Blank], areas.Select(a => a.Pattern));
        var scale = areas[0].Width / 0.1;
        Assert.All(bars.Zip(whiskers), x =>
        {
            Assert.Equal(areas[0].X + (scale * x.First.Interval.Low), x.Second.Points[0].X, 1e-6);
            Assert.Equal(areas[0].X + (scale * x.First.Interval.High), x.Second.Points[1].X, 1e-6);
        });
        Assert.Equal(["Sam", "4", "1", "25.0 %", "4.6 % to 69.9 %", "Small numbers: 4 repairs. Chance can make any figure of so few."], chart.Table.Rows[2]);
    }

    [Fact]
    public void Bars_that_do_not_fit_are_counted_and_stand_in_the_table()
    {
        var chart = RateBarChart.Layout("t", [.. Enumerable.Range(0, 50).Select(i => new RateBar($"Maker {i}", i, 100))], Wide);
        var drawn = chart.Areas.Count(a => a.Role == ChartRole.Bar);

        Assert.InRange(drawn, 5, 20);
        Assert.Contains(chart.Texts, t => t.Text == $"and {50 - drawn} more in the table");
        Assert.Equal(50, chart.Table.Rows.Length);
    }

    [Theory]
    [InlineData(0, 1, 6, new[] { 0, 0.2, 0.4, 0.6, 0.8, 1 })]
    [InlineData(0, 400, 5, new[] { 0.0, 100, 200, 300, 400 })]
    [InlineData(0, 0.3, 4, new[] { 0, 0.1, 0.2, 0.3 })]
    [InlineData(70, 100, 4, new[] { 70.0, 80, 90, 100 })]
    public void Ticks_stand_at_numbers_that_people_count_in(double low, double high, int most, double[] ticks) => Assert.Equal(ticks, NiceTicks.Of(low, high, most));

    [Fact]
    public void Ticks_are_evenly_apart_in_the_range_and_not_too_many() => Gen.Select(Gen.Double[-1e6, 1e6], Gen.Double[1e-6, 1e6], Gen.Int[2, 20]).Sample((low, length, most) =>
    {
        var ticks = NiceTicks.Of(low, low + length, most);
        Assert.InRange(ticks.Length, 0, most);
        Assert.All(ticks, t => Assert.InRange(t, low - (1e-6 * length), low + (length * (1 + 1e-6))));
    });

    [Theory]
    [InlineData(0.031, 0.05)]
    [InlineData(0.2, 0.2)]
    [InlineData(0.9, 1)]
    [InlineData(7, 10)]
    public void A_nice_number_stands_above(double value, double nice) => Assert.Equal(nice, NiceTicks.Above(value));

    [Theory]
    [InlineData(100, 400, 12)]
    [InlineData(400, 100, 12)]
    [InlineData(400, 400, 0)]
    [InlineData(double.NaN, 400, 12)]
    public void Too_little_room_is_refused(double width, double height, double size) => Assert.Throws<ArgumentOutOfRangeException>(() => new ChartSetting(width, height, size));

    private static void Holds(Chart chart, ChartSetting setting)
    {
        var boxes = chart.Texts.Select(t => Box(t, setting)).ToArray();
        for (var i = 0; i < boxes.Length; i++)
        {
            Assert.True(Inside(boxes[i].Left, boxes[i].Top) && Inside(boxes[i].Right, boxes[i].Bottom), $"'{chart.Texts[i].Text}' leaves the chart.");
            for (var j = 0; j < i; j++)
            {
                var (a, b) = (boxes[i], boxes[j]);
                Assert.False(a.Left < b.Right && b.Left < a.Right && a.Top < b.Bottom && b.Top < a.Bottom, $"'{chart.Texts[i].Text}' lies over '{chart.Texts[j].Text}'.");
            }
        }

        Assert.InRange(chart.Height, 1, setting.Height + 1e-6);
        Assert.All(chart.Lines.SelectMany(l => l.Points), p => Assert.True(Inside(p.X, p.Y)));
        Assert.All(chart.Areas, a => Assert.True(Inside(a.X, a.Y) && Inside(a.X + a.Width, a.Y + a.Height) && a.Width >= 0 && a.Height >= 0));
        Assert.All(chart.Table.Rows, r => Assert.Equal(chart.Table.Headers.Length, r.Length));

        bool Inside(double x, double y) => x >= -1e-6 && y >= -1e-6 && x <= setting.Width + 1e-6 && y <= chart.Height + 1e-6;
    }

    /// <summary>The box of a text: letters rise eight tenths of their size above the line and fall a quarter below.</summary>
    private static (double Left, double Right, double Top, double Bottom) Box(ChartText text, ChartSetting setting)
    {
        var width = setting.TextWidth(text.Text, setting.TextSize);
        var left = text.Anchor switch
        {
            TextAnchor.Start => text.X,
            TextAnchor.Middle => text.X - (width / 2),
            TextAnchor.End => text.X - width,
            _ => throw new InvalidOperationException(),
        };
        return (left + 1e-9, left + width - 1e-9, text.Baseline - (0.8 * setting.TextSize), text.Baseline + (0.25 * setting.TextSize));
    }
}
