using CsCheck;
using ShopDiag.Comebacks.Statistics;

namespace ShopDiag.Comebacks.Tests.Statistics;

public sealed class RateShrinkageTests
{
    private static readonly Gen<RateCount[]> Groups =
        Gen.Select(Gen.Int[0, 200], Gen.Double[0, 1]).Select((n, p) => new RateCount((long)Math.Round(p * n), n)).Array[1, 20];

    private static RateCount[] Batters => [.. PublishedData.Batters.Select(h => new RateCount(h, 45))];

    [Fact]
    public void The_batters_mean_and_spread_are_those_published()
    {
        var shrinkage = RateShrinkage.Of(Batters);

        Assert.Equal(0.265432, shrinkage.PooledRate, 5e-7);
        var variance = shrinkage.PooledRate * (1 - shrinkage.PooledRate) / 45;
        Assert.Equal(0.0043328, variance, 5e-8);
        Assert.Equal(0.0824417, shrinkage.Heterogeneity * variance, 5e-8);

        // James and Stein keep 1 − (k−3)/Q = 0.212 of the distance and give .294, .289 and .242.
        var kept = 1 - ((18 - 3) / shrinkage.Heterogeneity);
        Assert.Equal(0.212, Math.Round(kept, 3));
        Assert.Equal([.294, .289, .242], new[] { 18, 17, 7 }.Select(h => Math.Round(shrinkage.PooledRate + (kept * ((h / 45.0) - shrinkage.PooledRate)), 3)));
    }

    [Fact]
    public void Ours_keeps_about_one_less_k_minus_one_over_q_of_the_distance()
    {
        var shrinkage = RateShrinkage.Of(Batters);
        var kept = (shrinkage.Shrink(new(18, 45)) - shrinkage.PooledRate) / ((18 / 45.0) - shrinkage.PooledRate);

        Assert.Equal(1 - (17 / shrinkage.Heterogeneity), kept, 0.003);
    }

    [Fact]
    public void It_foretells_the_rest_of_the_season_far_better_than_the_averages_so_far()
    {
        var shrinkage = RateShrinkage.Of(Batters);
        double Error(Func<RateCount, double> guess) => Batters.Zip(PublishedData.RestOfSeason, (b, rest) => Math.Pow(guess(b) - rest, 2)).Sum();

        // Published: .077 for the averages, .022 for James and Stein.
        Assert.Equal(0.077, Error(b => b.Hits / 45.0), 2e-3);
        Assert.InRange(Error(shrinkage.Shrink), 0.018, 0.024);
    }

    [Theory]
    [InlineData(2, 10, 0.08)]
    [InlineData(0, 8, 0.0416667)]
    [InlineData(5, 60, 0.07)]
    public void A_known_prior_is_added_to_the_counts(long hits, long cases, double rate) =>
        Assert.Equal(rate, RateShrinkage.Prior(2, 38).Shrink(new(hits, cases)), 5e-8);

    [Fact]
    public void The_rate_lies_between_the_groups_own_and_that_of_all() => Groups.Sample(groups =>
    {
        var shrinkage = RateShrinkage.Of(groups);
        foreach (var group in groups.Where(g => g.Cases > 0))
        {
            var own = (double)group.Hits / group.Cases;
            Assert.InRange(shrinkage.Shrink(group), Math.Min(own, shrinkage.PooledRate) - 1e-15, Math.Max(own, shrinkage.PooledRate) + 1e-15);
        }
    });

    [Fact]
    public void Of_two_with_the_same_rate_the_larger_stays_nearer_to_it() => Groups.Sample(groups =>
    {
        var shrinkage = RateShrinkage.Of(groups);
        Assert.True(Math.Abs(shrinkage.Shrink(new(30, 100)) - 0.3) <= Math.Abs(shrinkage.Shrink(new(3, 10)) - 0.3) + 1e-15);
    });

    [Fact]
    public void Groups_that_differ_no_more_than_by_chance_all_get_the_rate_of_all()
    {
        var shrinkage = RateShrinkage.Of([new(5, 100), new(6, 120), new(2, 40)]);

        Assert.True(double.IsPositiveInfinity(shrinkage.Strength));
        Assert.Equal(13 / 260.0, shrinkage.Shrink(new(2, 40)));
    }

    [Fact]
    public void A_spread_that_is_there_is_found_again()
    {
        // A thousand groups of 50 whose true rates are spread as Beta(4, 36) spreads them: strength 40, mean a tenth.
        var rates = Enumerable.Range(0, 1000).Select(i => MathNet.Numerics.Distributions.Beta.InvCDF(4, 36, (i + 0.5) / 1000)).ToArray();
        var shrinkage = RateShrinkage.Of(rates.Select((r, i) => new RateCount(MathNet.Numerics.Distributions.Binomial.Sample(new System.Random(i), r, 50), 50)));

        Assert.Equal(0.1, shrinkage.PooledRate, 0.005);
        Assert.InRange(shrinkage.Strength, 30, 55);
    }

    [Fact]
    public void No_groups_no_hits_and_nothing_but_hits_have_a_rate_all_the_same()
    {
        Assert.Equal(0, RateShrinkage.Of([]).Shrink(new(0, 0)));
        Assert.Equal(0, RateShrinkage.Of([new(0, 5), new(0, 9)]).Shrink(new(0, 5)));
        Assert.Equal(1, RateShrinkage.Of([new(5, 5), new(9, 9)]).Shrink(new(5, 5)));
    }

    [Fact]
    public void Groups_that_are_all_or_nothing_keep_their_own_rate() => Assert.Equal(0, RateShrinkage.Of([new(0, 50), new(50, 50)]).Shrink(new(0, 50)), 0.03);

    [Fact]
    public void More_hits_than_cases_are_refused() => Assert.Throws<ArgumentOutOfRangeException>(() => RateShrinkage.Of([new(3, 2)]));
}
