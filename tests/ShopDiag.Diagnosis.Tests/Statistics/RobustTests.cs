using CsCheck;
using ShopDiag.Diagnosis.Statistics;

namespace ShopDiag.Diagnosis.Tests.Statistics;

public sealed class RobustTests
{
    private static readonly Gen<double[]> Some = Gen.Double[-5000, 5000].Array[1, 12];

    [Theory]
    [InlineData(new double[] { 7 }, 7)]
    [InlineData(new double[] { 9, 1 }, 5)]
    [InlineData(new double[] { 3, 100, 1 }, 3)]
    [InlineData(new double[] { 4, 1, 3, 2 }, 2.5)]
    public void Median_is_the_middle(double[] values, double median) => Assert.Equal(median, Robust.Median(values));

    [Fact]
    public void Median_of_nothing_is_refused() => Assert.Throws<ArgumentException>(() => Robust.Median([]));

    [Theory]
    [InlineData(new double[] { 60 }, 60)]
    [InlineData(new double[] { 60, 2 }, 60)]
    [InlineData(new double[] { 60, 62, 1 }, 60)]
    [InlineData(new double[] { 60, 62, 64, 1, 0 }, 62)]
    [InlineData(new double[] { 60, 61, 62, 63, 64, 1, 2 }, 62)]
    [InlineData(new double[] { 700, 60, 62 }, 62)]
    public void Sound_level_is_moved_neither_by_dead_ones_nor_by_one_wild_high_one(double[] values, double level) =>
        Assert.Equal(level, Robust.SoundLevel(values));

    [Fact]
    public void Sigma_of_the_nist_series_michelso_is_near_its_standard_deviation()
    {
        // NIST StRD Michelso, first 20 of 100 values; the whole series has sd 0.079.
        double[] speeds = [299.85, 299.74, 299.90, 300.07, 299.93, 299.85, 299.95, 299.98, 299.98, 299.88, 300.00, 299.98, 299.93, 299.65, 299.76, 299.81, 300.00, 300.00, 299.96, 299.96];
        Assert.InRange(Robust.Sigma(speeds), 0.05, 0.12);
        Assert.Equal(Robust.Sigma(speeds), Robust.Sigma([.. speeds.SkipLast(1), 4000]), 0.05);
    }

    [Fact]
    public void Trials_scatter_by_their_range_over_d2_while_they_are_few()
    {
        Assert.Null(Robust.TrialSigma([5]));
        Assert.Equal(3 / 1.128, Robust.TrialSigma([5, 8])!.Value, 1e-12);
        Assert.Equal(4 / 1.693, Robust.TrialSigma([5, 8, 9])!.Value, 1e-12);
        Assert.Equal(1.4826, Robust.TrialSigma([1, 2, 3, 4, 100])!.Value, 1e-12);
    }

    [Fact]
    public void Pooling_takes_the_root_of_the_mean_square_of_what_there_is()
    {
        Assert.Null(Robust.Pooled([null, null]));
        Assert.Equal(5, Robust.Pooled([3, null, Math.Sqrt(41)])!.Value, 1e-12);
    }

    [Fact]
    public void Order_changes_nothing_and_results_stay_within_the_values() => Gen.Select(Some, Gen.Int[0, 1000]).Sample((values, seed) =>
    {
        var shuffled = values.OrderBy(v => HashCode.Combine(v, seed)).ToArray();
        Assert.Equal(Robust.Median(values), Robust.Median(shuffled));
        Assert.Equal(Robust.SoundLevel(values), Robust.SoundLevel(shuffled));
        Assert.Equal(Robust.Sigma(values), Robust.Sigma(shuffled));
        Assert.InRange(Robust.Median(values), values.Min(), values.Max());
        Assert.InRange(Robust.SoundLevel(values), Robust.Median(values), values.Max());
    });
}
