using ShopDiag.Signals.Waveforms;
using ShopDiag.Signals.Waveforms.Csv;
using ShopDiag.Signals.Waveforms.Recognition;

namespace ShopDiag.Signals.Tests.Waveforms;

public sealed class WaveformGuesserTests
{
    public static TheoryData<string, Waveform, WaveformKind> Recordings { get; } = new()
    {
        { "starter, amps", Cranking("A", 1), WaveformKind.CrankingCurrent },
        { "starter, clamp in volts", Cranking("V", 0.001), WaveformKind.CrankingCurrent },
        { "inductive sensor", Wheel((phase, speed) => speed * Math.Sin(phase)), WaveformKind.CrankSensor },
        { "Hall sensor", Wheel((phase, _) => Math.Sin(phase) > 0 ? 5 : 0.2), WaveformKind.CrankSensor },
        { "injector", Currents.Recorded(Currents.Injector(13.4, 12, 4e-3, 1.2e-3, 1.6e-3), 9, 100_000, 0.004, 1), WaveformKind.InjectorCurrent },
        { "injector, clamp in volts", Currents.Recorded(Currents.Injector(13.4, 12, 4e-3, 1.2e-3, 1.6e-3), 9, 100_000, 0.004, 1, unit: "mV", factor: 100), WaveformKind.InjectorCurrent },
        { "stuck injector", Currents.Recorded(Currents.Injector(13.4, 12, 4e-3, 1, 2, stuck: true), 9, 100_000, 0.004, 1), WaveformKind.InjectorCurrent },
        { "injector with hold", Currents.Recorded(Currents.Injector(13.4, 2, 5e-3, 0.45e-3, 0.75e-3, peak: 4, hold: 1, closed: 2e-3), 9, 200_000, 0.02, 1), WaveformKind.InjectorCurrent },
        { "coil", Currents.Recorded(Currents.Coil(14, 0.5, 3.5e-3, 2.8e-3), 9, 200_000, 0.03, 1), WaveformKind.CoilCurrent },
        { "coil with limit", Currents.Recorded(Currents.Coil(14, 0.5, 3.5e-3, 3.5e-3, limit: 7), 9, 200_000, 0.03, 1), WaveformKind.CoilCurrent },
        { "coil with limit, clamp in volts", Currents.Recorded(Currents.Coil(14, 0.5, 3.5e-3, 3.5e-3, limit: 7), 9, 200_000, 0.03, 1, unit: "V", factor: 0.1), WaveformKind.CoilCurrent },
    };

    [Theory]
    [MemberData(nameof(Recordings))]
    public void A_recording_is_taken_for_what_it_is(string what, Waveform waveform, WaveformKind kind)
    {
        var guess = WaveformGuesser.Guess(new WaveformFile { Waveform = waveform, Rows = waveform.Length });

        Assert.Equal((what, kind, 1), (what, guess.Kind!.Value, guess.Channel));
        Assert.StartsWith(waveform.Channels[0].Name, guess.Reason, StringComparison.Ordinal);
    }

    [Fact]
    public void Times_alone_are_those_of_teeth() =>
        Assert.Equal(WaveformKind.ToothTimes, WaveformGuesser.Guess(new WaveformFile { EventSeconds = [.. Enumerable.Range(0, 100).Select(i => i * 0.001)], Rows = 100 }).Kind);

    [Fact]
    public void Noise_and_a_flat_line_are_nothing_known()
    {
        var random = new Random(5);
        foreach (var samples in new float[][] { [.. Enumerable.Range(0, 50_000).Select(_ => (float)random.NextDouble())], new float[50_000] })
        {
            var guess = WaveformGuesser.Guess(new WaveformFile { Waveform = new(50_000, 0, [new("A", "V", samples)]), Rows = samples.Length });

            Assert.Null(guess.Kind);
            Assert.Contains("say what it is", guess.Reason, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void A_channel_that_shows_nothing_is_passed_over()
    {
        var coil = Currents.Recorded(Currents.Coil(14, 0.5, 3.5e-3, 2.8e-3), 9, 200_000, 0.03, 1);
        var two = coil with { Channels = [new("trigger", "V", new float[coil.Length]), .. coil.Channels] };

        Assert.Equal((WaveformKind.CoilCurrent, 2), (WaveformGuesser.Guess(new WaveformFile { Waveform = two, Rows = two.Length }) is var g ? (g.Kind!.Value, g.Channel) : default));
    }

    /// <summary>Inrush, then humps of 130 A at 12 compressions a second with brush noise, 3 s of 5.</summary>
    private static Waveform Cranking(string unit, double factor)
    {
        var random = new Random(3);
        var samples = new float[50_000];
        for (var i = 0; i < samples.Length; i++)
        {
            var t = (i / 10_000.0) - 1;
            var amps = t is < 0 or > 3 ? 0 : 130 + (45 * Math.Sin(2 * Math.PI * 12 * t)) + (500 * Math.Exp(-t / 0.05));
            samples[i] = (float)(factor * (amps + (4 * (random.NextDouble() - 0.5))));
        }

        return new Waveform(10_000, 0, [new("clamp", unit, samples)]);
    }

    /// <summary>A wheel of 60 less 2 teeth that is cranked: 250 rpm with a swing.</summary>
    private static Waveform Wheel(Func<double, double, double> volts)
    {
        var samples = new float[60_000];
        var angle = 0.0;
        for (var i = 0; i < samples.Length; i++)
        {
            var speed = 1 + (0.3 * Math.Sin(2 * Math.PI * 8 * i / 20_000.0));
            angle += 250.0 / 60 / 20_000 * speed;
            samples[i] = (float)(angle % 1 < 58 / 60.0 ? volts(2 * Math.PI * 60 * angle, speed) : volts(-0.01, 0));
        }

        return new Waveform(20_000, 0, [new("sensor", "V", samples)]);
    }
}
