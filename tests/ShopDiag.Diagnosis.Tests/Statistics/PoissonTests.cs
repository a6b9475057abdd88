using CsCheck;
using ShopDiag.Diagnosis.Statistics;

namespace ShopDiag.Diagnosis.Tests.Statistics;

public sealed class PoissonTests
{
    /// <summary>Reference values: one minus the sum of the lower terms, in 60-digit decimal arithmetic.</summary>
    [Theory]
    [InlineData(0, 3, 1)]
    [InlineData(4, 0, 0)]
    [InlineData(1, 0.2, 0.181269246922)]
    [InlineData(5, 10, 0.970747311923)]
    [InlineData(12, 10, 0.303223853697)]
    [InlineData(16, 10, 0.048740403304)]
    [InlineData(20, 10, 0.00345434197586)]
    [InlineData(40, 30, 0.0462530376458)]
    [InlineData(1000, 900, 0.000549902265712)]
    [InlineData(10500, 10000, 3.59958979481e-07)]
    public void Tail_agrees_with_exact_arithmetic(long count, double mean, double expected) =>
        Assert.Equal(expected, Poisson.AtLeast(count, mean), Math.Max(1e-9 * expected, 1e-15));

    [Fact]
    public void Tail_is_a_probability_and_falls_with_the_count() =>
        Gen.Select(Gen.Long[0, 70000], Gen.Double[0, 50000]).Sample((count, mean) =>
        {
            var p = Poisson.AtLeast(count, mean);
            Assert.InRange(p, 0, 1);
            Assert.True(Poisson.AtLeast(count + 1, mean) <= p + 1e-12);
        });

    [Theory]
    [InlineData(double.NaN)]
    [InlineData(-1)]
    [InlineData(double.PositiveInfinity)]
    public void A_mean_that_is_none_is_refused(double mean) => Assert.Throws<ArgumentOutOfRangeException>(() => Poisson.AtLeast(1, mean));

    /// <summary>Garwood, Biometrika 28 (1936): 95 % limits for the mean, from memory; recomputed as half the chi-square quantiles.</summary>
    [Theory]
    [InlineData(0, 0, 3.689)]
    [InlineData(1, 0.0253, 5.572)]
    [InlineData(5, 1.623, 11.668)]
    [InlineData(10, 4.795, 18.390)]
    [InlineData(20, 12.217, 30.888)]
    [InlineData(100, 81.364, 121.627)]
    public void Limits_of_the_mean_agree_with_the_printed_table(long count, double low, double high)
    {
        var between = Poisson.Between(count, 0.05);
        Assert.Equal(low, between.Low, 0.0006);
        Assert.Equal(high, between.High, 0.0006);
    }

    [Fact]
    public void Limits_hold_the_count_and_leave_half_the_chance_on_either_side() =>
        Gen.Select(Gen.Long[1, 70000], Gen.Double[0.001, 0.2]).Sample((count, chance) =>
        {
            var (low, high) = Poisson.Between(count, chance);
            Assert.True(low < count && count < high);
            Assert.Equal(chance / 2, Poisson.AtLeast(count, low), 1e-6);
            Assert.Equal(chance / 2, 1 - Poisson.AtLeast(count + 1, high), 1e-6);
        }, iter: 50);

    [Theory]
    [InlineData(-1, 0.05)]
    [InlineData(1, 0)]
    [InlineData(1, 1)]
    [InlineData(1, double.NaN)]
    public void Limits_of_nothing_are_refused(long count, double chance) => Assert.Throws<ArgumentOutOfRangeException>(() => Poisson.Between(count, chance));
}
