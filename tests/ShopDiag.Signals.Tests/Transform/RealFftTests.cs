using CsCheck;
using ShopDiag.Signals.Transform;

namespace ShopDiag.Signals.Tests.Transform;

public sealed class RealFftTests
{
    [Theory]
    [InlineData(8)]
    [InlineData(16)]
    [InlineData(64)]
    [InlineData(512)]
    public void Power_is_that_of_the_sum_written_out(int size)
    {
        var fft = new RealFft(size);
        Gen.Float[-1, 1].Array[size].Sample(
            samples =>
            {
                var power = new float[size / 2];
                fft.Power(samples, power);
                for (var k = 0; k < power.Length; k++)
                {
                    double re = 0, im = 0;
                    for (var i = 0; i < size; i++)
                    {
                        var (sin, cos) = Math.SinCos(-2 * Math.PI * k * i / size);
                        (re, im) = (re + (samples[i] * cos), im + (samples[i] * sin));
                    }

                    Assert.Equal((re * re) + (im * im), power[k], 1e-3 * size);
                }
            },
            // One transform keeps its own work space and is used by one thread at a time.
            iter: 20, threads: 1);
    }

    [Fact]
    public void A_tone_stands_on_its_own_line()
    {
        var power = new float[2048];
        new RealFft(4096).Power([.. Enumerable.Range(0, 4096).Select(i => (float)Math.Cos(2 * Math.PI * 300 * i / 4096))], power);

        Assert.Equal(2048.0 * 2048, power[300], 200.0);
        Assert.All(power.Where((_, k) => k != 300), p => Assert.True(p < 1));
    }

    [Theory]
    [InlineData(0)]
    [InlineData(4)]
    [InlineData(100)]
    public void Lengths_that_are_no_power_of_two_are_refused(int size) => Assert.Throws<ArgumentOutOfRangeException>(() => new RealFft(size));

    [Fact]
    public void Selecting_by_rank_agrees_with_sorting() =>
        Gen.Select(Gen.Float[-5, 5].Array[1, 60], Gen.Int[0, 59]).Sample(
            (values, at) =>
            {
                var rank = at % values.Length;
                Assert.Equal(values.Order().ElementAt(rank), Middle.Select((float[])values.Clone(), rank));
            },
            iter: 500);

    [Theory]
    [InlineData(1)]
    [InlineData(5)]
    [InlineData(12)]
    public void Thinning_keeps_low_tones_whole_takes_high_ones_out_and_knows_its_delay(int factor)
    {
        const double rate = 48000;
        float[] Tone(double hz) => [.. Enumerable.Range(0, 24000).Select(i => (float)Math.Sin(2 * Math.PI * hz * i / rate))];
        var thin = Decimator.LowPass(factor);
        var output = new List<float>();
        var low = Tone(100);
        thin.Feed(low.AsSpan(0, 5001), output);
        thin.Feed(low.AsSpan(5001), output);
        for (var m = 1000; m < output.Count - 100; m++)
        {
            Assert.Equal(Math.Sin(2 * Math.PI * 100 * ((m * factor) - thin.Delay) / rate), output[m], 2e-3);
        }

        if (factor > 1)
        {
            var rest = new List<float>();
            Decimator.LowPass(factor).Feed(Tone(0.8 * rate / factor), rest);
            Assert.All(rest.Skip(50), v => Assert.True(Math.Abs(v) < 2e-3));
        }
    }
}
