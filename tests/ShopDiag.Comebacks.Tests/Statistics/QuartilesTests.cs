using CsCheck;
using ShopDiag.Comebacks.Statistics;

namespace ShopDiag.Comebacks.Tests.Statistics;

public sealed class QuartilesTests
{
    [Theory]
    // Definition 7 of Hyndman and Fan, worked by hand.
    [InlineData(new[] { 1.0, 2, 3, 4, 5 }, 2, 3, 4)]
    [InlineData(new[] { 4.0, 1, 3, 2 }, 1.75, 2.5, 3.25)]
    [InlineData(new[] { 20.0, 10 }, 12.5, 15, 17.5)]
    [InlineData(new[] { 9.0 }, 9, 9, 9)]
    public void They_lie_between_neighbours(double[] values, double lower, double median, double upper) =>
        Assert.Equal(new Quartiles(lower, median, upper), Quartiles.Of(values));

    [Fact]
    public void They_are_in_order_and_among_the_values() => Gen.Double[-1e6, 1e6].Array[1, 50].Sample(values =>
        Quartiles.Of(values) is var q && q.Lower >= values.Min() && q.Lower <= q.Median && q.Median <= q.Upper && q.Upper <= values.Max());

    [Fact]
    public void None_are_refused() => Assert.Throws<ArgumentException>(() => Quartiles.Of([]));
}
