using CsCheck;
using ShopDiag.Comebacks.Statistics;

namespace ShopDiag.Comebacks.Tests.Statistics;

public sealed class BenjaminiHochbergTests
{
    private static readonly Gen<double[]> Probabilities = Gen.Double[0, 1].Array[1, 40];

    [Fact]
    public void The_published_comparisons_come_out()
    {
        var adjusted = BenjaminiHochberg.Adjusted(PublishedData.FifteenComparisons);

        Assert.Equal(
            [.0015, .0030, .0095, .035625, .0603, .063857, .063857, .0645, .0765, .486, .581182, .714875, .753231, .813214, 1],
            adjusted.Select(p => Math.Round(p, 6)));
        Assert.Equal(4, adjusted.Count(p => p <= 0.05));
    }

    [Fact]
    public void It_keeps_the_order_and_never_lowers() => Probabilities.Sample(p =>
    {
        var adjusted = BenjaminiHochberg.Adjusted(p);
        Assert.All(p.Zip(adjusted), x => Assert.InRange(x.Second, x.First, 1));
        for (var i = 0; i < p.Length; i++)
        {
            Assert.All(Enumerable.Range(0, p.Length), j => Assert.True(p[i] > p[j] || adjusted[i] <= adjusted[j]));
        }
    });

    [Fact]
    public void It_rejects_as_the_step_up_rule_does() => Gen.Select(Probabilities, Gen.Double[0.001, 0.5]).Sample((p, q) =>
    {
        var sorted = p.Order().ToArray();
        var last = Array.FindLastIndex(sorted, x => x <= q * (Array.IndexOf(sorted, x) + 1) / sorted.Length);
        Assert.Equal(last + 1, BenjaminiHochberg.Adjusted(p).Count(x => x <= q));
    });

    [Fact]
    public void One_comparison_stays_as_it_is_and_none_is_none()
    {
        Assert.Equal([0.04], BenjaminiHochberg.Adjusted([0.04]));
        Assert.Empty(BenjaminiHochberg.Adjusted([]));
    }

    [Theory]
    [InlineData(-0.1)]
    [InlineData(1.1)]
    [InlineData(double.NaN)]
    public void What_is_no_probability_is_refused(double p) => Assert.Throws<ArgumentOutOfRangeException>(() => BenjaminiHochberg.Adjusted([p]));
}
