using ShopDiag.Signals.Measured.Engines;
using ShopDiag.Signals.Measured.Loops;

namespace ShopDiag.Signals.Tests.Loops;

public sealed class LoopVoiceTests
{
    private const int Rate = 44100;
    private const int Heard = 16000;

    [Theory]
    //          own rpm, tone Hz, played at rpm, tone heard Hz
    [InlineData(3000, 400, 750, 100)]
    [InlineData(3000, 400, 1500, 200)]
    [InlineData(3000, 400, 3000, 400)]
    [InlineData(900, 120, 750, 100)]
    public void A_tone_comes_out_at_the_pitch_of_the_speed_it_is_played_at(double own, double tone, double rpm, double expected)
    {
        var warped = LoopVoice.Warped(Tone(tone), Own(own), Crank(_ => rpm), Heard);

        Assert.Equal(expected, Rises(warped) / 4.0, 0.5);
    }

    [Fact]
    public void A_tone_follows_a_speed_that_falls_and_its_seam_is_not_heard()
    {
        static double Rpm(double seconds) => 800 - (100 * seconds);
        var warped = LoopVoice.Warped(Tone(400), Own(3000), Crank(Rpm), Heard);

        // 16 periods a cycle (400 Hz at 25 cycles a second), from half a cycle on: the phase of the tone is 16 times the cycles turned, whatever the speed does.
        for (var i = 0; i < warped.Length; i++)
        {
            var t = (double)i / Heard;
            var cycles = ((800 * t) - (50 * t * t)) / 120;
            Assert.Equal(Math.Sin(2 * Math.PI * 16 * cycles), warped[i], 0.02);
        }
    }

    [Theory]
    //          cylinders, own rpm, seconds of the loop
    [InlineData(4, 2450, 0.6)]
    [InlineData(6, 4700, 3)]
    [InlineData(8, 1100, 2)]
    [InlineData(12, 3800, 1.5)]
    public void The_own_speed_of_unlike_pulses_is_found(int cylinders, double rpm, double seconds)
    {
        var random = new Random(11);
        var sizes = Enumerable.Range(0, cylinders).Select(_ => 0.5 + random.NextDouble()).ToArray();
        float[] pulses = [.. Enumerable.Range(0, (int)(seconds * Rate)).Select(i =>
        {
            var firings = i * rpm * cylinders / 120 / Rate;
            return (float)((sizes[(int)firings % cylinders] * Math.Exp(-8 * (firings % 1))) + (0.1 * (random.NextDouble() - 0.5)));
        })];

        var own = OwnSpeed.Of(new("pulses", cylinders, Centred(pulses), Rate))!;

        Assert.Equal(rpm, own.Rpm, 0.001 * rpm);
        Assert.True(own.Certain);
        Assert.True(own.Drift < 0.002);
    }

    [Fact]
    public void Noise_has_no_certain_own_speed()
    {
        var random = new Random(12);
        float[] noise = [.. Enumerable.Range(0, 2 * Rate).Select(_ => (float)(random.NextDouble() - 0.5))];

        Assert.NotEqual(true, OwnSpeed.Of(new("noise", 4, noise, Rate))?.Certain);
    }

    private static EngineLoop Tone(double hertz) =>
        new("tone", 4, [.. Enumerable.Range(0, 2 * Rate).Select(i => (float)Math.Sin(2 * Math.PI * hertz * i / Rate))], Rate);

    private static OwnSpeed Own(double rpm) => new(0, 2, 120 / rpm, 1, 2, 0);

    /// <summary>Four seconds at a speed that is said for each moment.</summary>
    private static CrankRun Crank(Func<double, double> rpm)
    {
        const double step = CrankSimulation.StepSeconds;
        var angles = new double[(int)(4 / step) + 1];
        for (var i = 1; i < angles.Length; i++)
        {
            angles[i] = angles[i - 1] + (rpm((i - 0.5) * step) * Math.PI / 30 * step);
        }

        return new(angles, step, []);
    }

    private static int Rises(float[] sound) => sound.Zip(sound.Skip(1)).Count(p => p.First < 0 && p.Second >= 0);

    private static float[] Centred(float[] sound)
    {
        var mean = sound.Average();
        return [.. sound.Select(s => s - mean)];
    }
}
