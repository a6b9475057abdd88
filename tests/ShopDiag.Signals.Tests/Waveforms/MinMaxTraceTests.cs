using CsCheck;
using ShopDiag.Signals.Waveforms;

namespace ShopDiag.Signals.Tests.Waveforms;

public sealed class MinMaxTraceTests
{
    [Fact]
    public void Each_column_holds_the_lowest_and_highest_of_its_samples()
    {
        Gen.Select(Gen.Float[-100, 100].Array[0, 3000], Gen.Int[0, 3000], Gen.Int[0, 3000], Gen.Int[1, 300], Gen.Int[2, 60]).Sample(
            (samples, a, b, columns, gap) =>
            {
                for (var i = 0; i < samples.Length; i += gap)
                {
                    samples[i] = float.NaN;
                }

                var (from, to) = (Math.Min(a, b), Math.Max(a, b));
                var answer = new MinMaxTrace(samples).Columns(from, to, columns);

                var cut = samples[Math.Min(from, samples.Length)..Math.Min(to, samples.Length)];
                Assert.Equal(Math.Min(columns, cut.Length), answer.Length);
                for (var c = 0; c < answer.Length; c++)
                {
                    float[] own = [.. cut[(int)((long)cut.Length * c / answer.Length)..(int)((long)cut.Length * (c + 1) / answer.Length)].Where(s => !float.IsNaN(s))];
                    Assert.Equal(own.Length > 0, answer[c].HasValue);
                    if (own.Length > 0)
                    {
                        Assert.Equal((own.Min(), own.Max()), (answer[c].Min, answer[c].Max));
                    }
                }
            },
            iter: 500);
    }

    [Fact]
    public void A_single_peak_among_millions_is_in_its_column()
    {
        var samples = new float[3_000_000];
        samples[2_345_678] = 5;

        var columns = new MinMaxTrace(samples).Columns(0, samples.Length, 1000);

        Assert.Equal([781], columns.Index().Where(c => c.Item.Max > 0).Select(c => c.Index));
    }
}
