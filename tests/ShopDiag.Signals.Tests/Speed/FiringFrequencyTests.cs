using ShopDiag.Signals.Speed;

namespace ShopDiag.Signals.Tests.Speed;

public sealed class FiringFrequencyTests
{
    [Theory]
    //          cylinders, firing Hz at 750 rpm (worked example D23: f = rpm N / 120)
    [InlineData(3, 18.75)]
    [InlineData(4, 25)]
    [InlineData(6, 37.5)]
    [InlineData(8, 50)]
    public void An_engine_at_750_rpm_fires_this_often(int cylinders, double hertz)
    {
        Assert.Equal(hertz, EngineToHear.FiringHz(750, cylinders), 1e-12);
        Assert.Equal(6.25, EngineToHear.CycleHz(750), 1e-12);
    }

    [Theory]
    [InlineData(3, 18.75)]
    [InlineData(4, 25)]
    [InlineData(6, 37.5)]
    [InlineData(8, 50)]
    public void Pulses_of_that_frequency_are_heard_as_750_rpm(int cylinders, double hertz)
    {
        // Bare pulses with a fifth of noise: no engine model between the formula and the ear.
        var random = new Random(4);
        var phase = 0.0;
        float[] pulses = [.. Enumerable.Range(0, 8 * 8000).Select(_ =>
        {
            phase = (phase + (hertz / 8000)) % 1;
            return (float)((phase < 0.1 ? Math.Sin(Math.PI * phase / 0.1) : 0) + (0.2 * (random.NextDouble() - 0.5)));
        })];

        var trace = SoundSpeed.Follow(pulses, 8000, EngineToHear.Create(cylinders, 700).Value);

        var middle = trace.Points.Where(p => p.Seconds is > 1 and < 7).ToList();
        Assert.All(middle, p => Assert.Equal(750, p.Rpm, 4.0));
        Assert.Equal(750, middle.Average(p => p.Rpm), 0.5);
    }

    [Theory]
    [InlineData(2, 750.0, "cylinders")]
    [InlineData(13, 750.0, "cylinders")]
    [InlineData(4, 499.0, "idle")]
    [InlineData(4, 3001.0, "idle")]
    [InlineData(4, double.NaN, "idle")]
    public void Engines_that_cannot_be_heard_are_refused_by_name(int cylinders, double rpm, string at) =>
        Assert.Equal(at, EngineToHear.Create(cylinders, rpm).Error!.At);
}
