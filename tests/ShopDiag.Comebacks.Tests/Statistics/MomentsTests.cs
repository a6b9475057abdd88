using CsCheck;
using ShopDiag.Comebacks.Statistics;

namespace ShopDiag.Comebacks.Tests.Statistics;

/// <summary>NIST Statistical Reference Datasets, univariate: certified values.</summary>
public sealed class MomentsTests
{
    public static TheoryData<string, double[], double, double, double, double> Certified => new()
    {
        // Name, series, mean, standard deviation, lag-1 correlation, how far the last two may be off relatively. The three NumAcc middles with a tenth cannot be
        // written exactly in double precision: what the series loses there no summing can give back.
        { "Michelso", PublishedData.Michelso, 299.852400000000, 0.0790105478190518, 0.535199668621283, 1e-12 },
        { "NumAcc1", [10000001, 10000003, 10000002], 10000002, 1, -0.5, 1e-15 },
        { "NumAcc2", PublishedData.NumAcc(1.2m), 1.2, 0.1, -0.999, 1e-14 },
        { "NumAcc3", PublishedData.NumAcc(1000000.2m), 1000000.2, 0.1, -0.999, 1e-9 },
        { "NumAcc4", PublishedData.NumAcc(10000000.2m), 10000000.2, 0.1, -0.999, 1e-8 },
    };

    [Theory]
    [MemberData(nameof(Certified))]
    public void The_certified_values_come_out(string name, double[] series, double mean, double deviation, double lag, double tolerance)
    {
        var moments = Moments.Of(series);

        Assert.True(Math.Abs(moments.Mean - mean) <= 1e-15 * Math.Abs(mean), $"{name}: mean {moments.Mean:R}");
        Assert.True(Math.Abs(moments.StandardDeviation!.Value - deviation) <= tolerance * deviation, $"{name}: deviation {moments.StandardDeviation:R}");
        Assert.True(Math.Abs(moments.LagOne!.Value - lag) <= tolerance * Math.Abs(lag), $"{name}: lag {moments.LagOne:R}");
    }

    [Fact]
    public void A_shift_moves_the_mean_and_nothing_else() => Gen.Select(Gen.Int[-1000, 1000].Array[2, 40], Gen.Int[-1_000_000, 1_000_000]).Sample((values, by) =>
    {
        var (one, other) = (Moments.Of([.. values.Select(v => (double)v)]), Moments.Of([.. values.Select(v => (double)v + by)]));
        Assert.Equal(one.Mean + by, other.Mean, 1e-8);
        Assert.Equal(one.StandardDeviation!.Value, other.StandardDeviation!.Value, 1e-8);
    });

    [Fact]
    public void One_value_has_a_mean_and_no_scatter() => Assert.Equal(new Moments(1, 7, null, null), Moments.Of([7]));

    [Fact]
    public void No_value_and_no_number_are_refused()
    {
        Assert.Throws<ArgumentException>(() => Moments.Of([]));
        Assert.Throws<ArgumentException>(() => Moments.Of([1, double.NaN]));
    }
}
