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
}
