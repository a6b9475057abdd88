using CsCheck;
using ShopDiag.Comebacks.Statistics;

namespace ShopDiag.Comebacks.Tests.Statistics;

public sealed class KaplanMeierTests
{
    private static readonly Gen<Observation[]> Watched =
        Gen.Select(Gen.Int[0, 30], Gen.Bool, (t, h) => new Observation(t, h)).Array[1, 60];

    [Theory]
    // Cox and Oakes, Analysis of Survival Data (1984), and Kleinbaum, Survival Analysis, for S; standard errors and bands by R's survfit.
    [InlineData(6, 21, 3, 0.857143, 0.076360, 0.6197, 0.9516)]
    [InlineData(7, 17, 1, 0.806723, 0.086935, 0.5631, 0.9228)]
    [InlineData(10, 15, 1, 0.752941, 0.096350, 0.5032, 0.8894)]
    [InlineData(13, 12, 1, 0.690196, 0.106815, 0.4316, 0.8491)]
    [InlineData(16, 11, 1, 0.627451, 0.114054, 0.3675, 0.8049)]
    [InlineData(22, 7, 1, 0.537815, 0.128234, 0.2678, 0.7468)]
    [InlineData(23, 6, 1, 0.448179, 0.134591, 0.1881, 0.6801)]
    public void The_textbook_curve_comes_out(int week, int atRisk, int events, double survival, double error, double low, double high)
    {
        var step = Assert.Single(KaplanMeier.Of(PublishedData.SixMp).Steps, s => s.Time == week);

        Assert.Equal((atRisk, events), (step.AtRisk, step.Events));
        Assert.Equal(survival, step.Survival, 5e-7);
        Assert.Equal(error, step.StandardError!.Value, 1e-6);
        Assert.Equal([low, high], [Math.Round(step.Band.Low, 4), Math.Round(step.Band.High, 4)]);
    }

    [Fact]
    public void The_textbook_curve_has_seven_steps_and_its_median()
    {
        var curve = KaplanMeier.Of(PublishedData.SixMp);

        Assert.Equal(7, curve.Steps.Length);
        Assert.Equal((21, 9, 23, 35), (curve.Total, curve.Events, curve.Median!.Value, curve.LastTime!.Value));
        Assert.Equal(541, PublishedData.SixMp.Concat(PublishedData.Placebo).Sum(o => o.Time));
    }

    [Theory]
    [InlineData(1, 0.9048)]
    [InlineData(2, 0.8095)]
    [InlineData(8, 0.3810)]
    [InlineData(10, 0.3810)]
    public void The_placebo_curve_comes_out(int week, double survival) =>
        Assert.Equal(survival, Math.Round(KaplanMeier.Of(PublishedData.Placebo).At(week)!.Value.Survival, 4));

    [Fact]
    public void The_placebo_curve_ends_at_nought_with_half_left_in_week_8()
    {
        var curve = KaplanMeier.Of(PublishedData.Placebo);

        Assert.Equal(8, curve.Median);
        Assert.Equal(0.10597, curve.At(8)!.Value.StandardError!.Value, 5e-6);
        Assert.Null(curve.Steps[^1].StandardError);
        Assert.Equal(0, curve.Steps[^1].Band.Low);
        Assert.Equal(curve.Steps[^2].Band.High, curve.Steps[^1].Band.High);
        Assert.Equal(0, curve.At(1000)!.Value.Survival);
    }

    [Fact]
    public void Nobody_watched_that_long_is_not_known()
    {
        var curve = KaplanMeier.Of(PublishedData.SixMp);

        Assert.NotNull(curve.At(35));
        Assert.Null(curve.At(36));
        Assert.Null(KaplanMeier.Of([]).At(0));
        Assert.Null(KaplanMeier.Of([]).LastTime);
    }

    [Fact]
    public void Eight_of_which_none_came_back_are_not_certain_to_hold()
    {
        var point = KaplanMeier.Of(Enumerable.Repeat(new Observation(40, false), 8)).At(30)!.Value;

        Assert.Equal((1.0, 8), (point.Survival, point.AtRisk));
        Assert.Equal(Proportions.Wilson(8, 8), point.Band);
        Assert.InRange(point.Band.Low, 0.6, 0.7);
    }

    [Fact]
    public void Watched_to_the_end_it_is_the_share_left() => Gen.Int[0, 30].Array[1, 60].Sample(times =>
    {
        var curve = KaplanMeier.Of(times.Select(t => new Observation(t, true)));
        for (var t = 0; t <= 31; t++)
        {
            Assert.Equal((double)times.Count(x => x > t) / times.Length, curve.At(t)!.Value.Survival, 1e-12);
        }
    });

    [Fact]
    public void It_is_the_product_written_out_and_never_rises() => Watched.Sample(observations =>
    {
        var curve = KaplanMeier.Of(observations);
        var before = 1.0;
        for (var t = 0; t <= curve.LastTime; t++)
        {
            var product = Enumerable.Range(0, t + 1).Aggregate(1.0, (s, u) =>
                observations.Count(o => o.Time >= u) is var n and > 0 ? s * (1 - ((double)observations.Count(o => o.Time == u && o.Happened) / n)) : s);
            var point = curve.At(t)!.Value;
            Assert.Equal(product, point.Survival, 1e-12);
            Assert.Equal(observations.Count(o => o.Time >= t), point.AtRisk);
            Assert.InRange(point.Survival, 0, before);
            Assert.True(point.Band.Holds(point.Survival) && point.Band.Low >= 0 && point.Band.High <= 1);
            before = point.Survival;
        }
    });

    [Fact]
    public void Every_case_is_a_step_or_a_mark() => Watched.Sample(observations =>
        KaplanMeier.Of(observations) is var c && c.Events + c.CensorMarks.Sum(m => m.Count) == observations.Length && c.Total == observations.Length);

    [Fact]
    public void Half_left_is_the_median_to_the_last_digit() =>
        Assert.Equal(5, KaplanMeier.Of(Enumerable.Range(0, 10).Select(i => new Observation(i + 1, true))).Median);

    [Fact]
    public void Times_below_nought_are_refused() => Assert.Throws<ArgumentOutOfRangeException>(() => KaplanMeier.Of([new(-1, true)]));
}
