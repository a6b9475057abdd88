using CsCheck;
using ShopDiag.Comebacks.Statistics;

namespace ShopDiag.Comebacks.Tests.Statistics;

public sealed class LogRankTests
{
    private static readonly Gen<Observation[][]> Groups =
        Gen.Select(Gen.Int[0, 20], Gen.Bool, (t, h) => new Observation(t, h)).Array[1, 25].Array[2, 5];

    [Fact]
    public void The_published_trial_comes_out_in_the_variance_form()
    {
        // R's survdiff on Freireich et al. 1963.
        var result = LogRank.Compare([PublishedData.SixMp, PublishedData.Placebo]);

        Assert.Equal(16.793, result.ChiSquare, 5e-4);
        Assert.Equal(1, result.DegreesOfFreedom);
        Assert.Equal(4.17e-5, result.P, 5e-8);
        Assert.Equal([9, 21], result.Groups.Select(g => g.Observed));
        Assert.Equal([19.2505, 10.7495], result.Groups.Select(g => Math.Round(g.Expected, 4)));
        Assert.All(result.Groups, g => Assert.Equal(6.2570, g.Variance, 5e-5));
        Assert.All(result.Groups, g => Assert.Equal(result.ChiSquare, g.ChiSquare, 1e-9));
        Assert.Contains("variance form", LogRank.Form, StringComparison.Ordinal);
    }

    [Fact]
    public void The_form_without_the_variance_is_another_statistic()
    {
        var groups = LogRank.Compare([PublishedData.SixMp, PublishedData.Placebo]).Groups;

        Assert.Equal(15.23, groups.Sum(g => Math.Pow(g.Observed - g.Expected, 2) / g.Expected), 5e-3);
    }

    [Fact]
    public void The_order_of_the_groups_does_not_matter() => Groups.Sample(groups =>
    {
        var (one, other) = (LogRank.Compare(groups), LogRank.Compare(groups.Reverse()));
        Assert.Equal(one.ChiSquare, other.ChiSquare, 1e-7 * (1 + one.ChiSquare));
        Assert.Equal(one.DegreesOfFreedom, other.DegreesOfFreedom);
    });

    [Fact]
    public void Observed_and_expected_add_up_to_the_same() => Groups.Sample(groups =>
        Assert.Equal(groups.Sum(g => g.Count(o => o.Happened)), LogRank.Compare(groups).Groups.Sum(g => g.Expected), 1e-9));

    [Fact]
    public void Groups_that_are_alike_do_not_differ() => Groups.Sample(groups =>
    {
        var result = LogRank.Compare([groups[0], groups[0], groups[0]]);
        Assert.Equal(0, result.ChiSquare, 1e-9);
        Assert.Equal(1, result.P, 1e-6);
    });

    [Fact]
    public void Stretching_time_changes_nothing() => Groups.Sample(groups =>
        Assert.Equal(LogRank.Compare(groups).ChiSquare, LogRank.Compare(groups.Select(g => g.Select(o => o with { Time = (o.Time * o.Time) + o.Time }))).ChiSquare, 1e-9));

    [Fact]
    public void A_row_is_the_comparison_of_its_group_with_all_the_others_as_one() => Groups.Sample(groups =>
    {
        var row = LogRank.Compare(groups).Groups[0];
        var two = LogRank.Compare([groups[0], groups.Skip(1).SelectMany(g => g)]);
        Assert.Equal(two.ChiSquare, row.ChiSquare, 1e-9);
        Assert.Equal(two.P, row.P, 1e-9);
    });

    [Fact]
    public void One_group_or_none_or_nothing_happening_is_no_difference()
    {
        LogRankResult[] results = [LogRank.Compare([]), LogRank.Compare([PublishedData.SixMp]), LogRank.Compare([[new(3, false)], [new(4, false)]])];

        Assert.All(results, r => Assert.Equal((0.0, 0, 1.0), (r.ChiSquare, r.DegreesOfFreedom, r.P)));
    }

    [Fact]
    public void A_group_that_was_gone_before_anything_happened_takes_no_degree_of_freedom() =>
        Assert.Equal(1, LogRank.Compare([PublishedData.SixMp, PublishedData.Placebo, [new(0, false), new(0, false)]]).DegreesOfFreedom);

    [Theory]
    // Tables of the chi-square distribution.
    [InlineData(3.841459, 1, 0.05)]
    [InlineData(5.991465, 2, 0.05)]
    [InlineData(18.307038, 10, 0.05)]
    [InlineData(6.634897, 1, 0.01)]
    public void The_tail_of_chi_square_is_that_of_the_tables(double value, int degrees, double above) => Assert.Equal(above, ChiSquare.Above(value, degrees), 1e-7);
}
