using CsCheck;
using ShopDiag.Comebacks.Statistics;

namespace ShopDiag.Comebacks.Tests.Statistics;

public sealed class ProportionsTests
{
    private static readonly Gen<(long Hits, long Cases)> Counts =
        Gen.Select(Gen.Int[1, 400], Gen.Double[0, 1]).Select((n, p) => ((long)(p * n), (long)n));

    [Theory]
    // Newcombe, Statistics in Medicine 17 (1998) 857, table I, methods 3 and 5.
    [InlineData(81, 263, 0.2553, 0.3662, 0.2527, 0.3676)]
    [InlineData(15, 148, 0.0624, 0.1605, 0.0578, 0.1617)]
    [InlineData(0, 20, 0.0000, 0.1611, 0.0000, 0.1684)]
    [InlineData(1, 29, 0.0061, 0.1718, 0.0009, 0.1776)]
    // Example of a public statistics page.
    [InlineData(23, 60, 0.2709, 0.5098, 0.2607, 0.5179)]
    public void Published_intervals_come_out(long hits, long cases, double wilsonLow, double wilsonHigh, double exactLow, double exactHigh)
    {
        var (wilson, exact) = (Proportions.Wilson(hits, cases), Proportions.ClopperPearson(hits, cases));

        Assert.Equal([wilsonLow, wilsonHigh], [Math.Round(wilson.Low, 4), Math.Round(wilson.High, 4)]);
        Assert.Equal([exactLow, exactHigh], [Math.Round(exact.Low, 4), Math.Round(exact.High, 4)]);
    }

    [Fact]
    public void Mendels_peas_have_the_exact_interval_of_the_textbook()
    {
        // Conover, Practical Nonparametric Statistics, as quoted in the help page of R's binom.test.
        var interval = Proportions.ClopperPearson(682, 925);

        Assert.Equal(0.7076683, interval.Low, 5e-8);
        Assert.Equal(0.7654066, interval.High, 5e-8);
    }

    [Fact]
    public void Both_hold_the_share_seen_within_0_and_1() => Counts.Sample(c =>
        Both(c.Hits, c.Cases).All(i => i.Holds((double)c.Hits / c.Cases) && Interval.AnyShare.Holds(i.Low) && Interval.AnyShare.Holds(i.High)));

    [Fact]
    public void Hits_and_misses_exchanged_turn_both_around() => Counts.Sample(c =>
        Both(c.Hits, c.Cases).Zip(Both(c.Cases - c.Hits, c.Cases)).All(p =>
            Math.Abs(p.First.Low - (1 - p.Second.High)) < 1e-9 && Math.Abs(p.First.High - (1 - p.Second.Low)) < 1e-9));

    [Fact]
    public void One_more_hit_raises_both_ends() => Counts.Where(c => c.Hits < c.Cases).Sample(c =>
        Both(c.Hits, c.Cases).Zip(Both(c.Hits + 1, c.Cases)).All(p => p.First.Low < p.Second.Low && p.First.High < p.Second.High));

    [Fact]
    public void More_confidence_is_wider() => Counts.Sample(c =>
        Proportions.Wilson(c.Hits, c.Cases, 0.99) is var wide && Proportions.Wilson(c.Hits, c.Cases, 0.8) is var narrow && wide.High - wide.Low > narrow.High - narrow.Low);

    [Fact]
    public void The_exact_interval_leaves_a_fortieth_on_either_side_by_the_binomial_sum_written_out() => Counts.Sample(
        c =>
        {
            var (low, high) = Proportions.ClopperPearson(c.Hits, c.Cases);
            Assert.True(c.Hits == 0 ? low == 0 : Math.Abs(Tail(c.Cases, low, c.Hits, c.Cases) - 0.025) < 1e-6);
            Assert.True(c.Hits == c.Cases ? high == 1 : Math.Abs(Tail(c.Cases, high, 0, c.Hits) - 0.025) < 1e-6);
        },
        iter: 200);

    [Fact]
    public void A_shop_of_two_hundred_thousand_still_has_its_exact_interval()
    {
        // None of n: 1 − 0.025^(1/n), one of n from below: 1 − 0.975^(1/n), both exactly.
        Assert.Equal(1 - Math.Pow(0.025, 1 / 200_000.0), Proportions.ClopperPearson(0, 200_000).High, 1e-10);
        Assert.Equal(1 - Math.Pow(0.975, 1 / 200_000.0), Proportions.ClopperPearson(1, 200_000).Low, 1e-10);
    }

    [Fact]
    public void Nothing_seen_is_any_share()
    {
        Assert.Equal(Interval.AnyShare, Proportions.Wilson(0, 0));
        Assert.Equal(Interval.AnyShare, Proportions.ClopperPearson(0, 0));
    }

    [Theory]
    [InlineData(-1, 5, 0.95)]
    [InlineData(6, 5, 0.95)]
    [InlineData(1, -1, 0.95)]
    [InlineData(1, 5, 0)]
    [InlineData(1, 5, 1)]
    [InlineData(1, 5, double.NaN)]
    public void What_cannot_be_is_refused(long hits, long cases, double confidence)
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => Proportions.Wilson(hits, cases, confidence));
        Assert.Throws<ArgumentOutOfRangeException>(() => Proportions.ClopperPearson(hits, cases, confidence));
    }

    private static Interval[] Both(long hits, long cases) => [Proportions.Wilson(hits, cases), Proportions.ClopperPearson(hits, cases)];

    private static double Tail(long n, double p, long from, long to)
    {
        var (sum, log) = (0.0, n * Math.Log(1 - p));
        for (long k = 0; k <= to; k++)
        {
            sum += k >= from ? Math.Exp(log) : 0;
            log += Math.Log((n - k) / (k + 1.0) * p / (1 - p));
        }

        return sum;
    }
}
