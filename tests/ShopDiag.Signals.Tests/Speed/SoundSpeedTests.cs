using ShopDiag.Signals.Cancellations;
using ShopDiag.Signals.Measured.Engines;
using ShopDiag.Signals.Measured.Noise;
using ShopDiag.Signals.Measured.Tables;
using ShopDiag.Signals.Speed;

namespace ShopDiag.Signals.Tests.Speed;

/// <summary>A few whole balance runs on synthetic engines. The wide measurement is the console ShopDiag.Signals.Measured; these hold what it found.</summary>
public sealed class SoundSpeedTests
{
    public static TheoryData<int, int, string, int> Runs { get; } = new()
    {
        // cylinders, idle, scene, decibels
        { 3, 900, "clean", 10 },
        { 4, 750, "shop", 10 },
        { 5, 800, "shop", 5 },
        { 6, 650, "shop", 0 },
        { 8, 900, "shop", 10 }, // fires at 60 Hz, on the mains
        { 10, 1500, "clean", 0 },
        { 12, 600, "shop", 10 },
    };

    [Theory]
    [MemberData(nameof(Runs))]
    public void Speed_and_drops_of_a_balance_run_are_heard(int cylinders, int idle, string scene, int snrDb)
    {
        var trial = new Trial(cylinders, idle, Scene.All.Single(s => s.Name == scene), snrDb, 77 + cylinders);
        var run = trial.Run();

        var trace = SoundSpeed.Follow(trial.Sound(run), trial.Rate, trial.Engine);

        var outcome = Outcome.Of(trial.Plan, run, trace);
        Assert.InRange(outcome.Median, 0, 0.3);
        Assert.InRange(outcome.GrossPercent, 0, 1);
        Assert.Equal(outcome.Drops, outcome.Found);
        Assert.Equal(0, outcome.False);
        Assert.InRange(outcome.DropError, 0, 4);
        Assert.InRange(trace.ClearShare, 0.6, 1);
    }

    [Theory]
    [InlineData(8000, 16)]
    [InlineData(11025, 8)]
    [InlineData(22050, 24)]
    [InlineData(44100, 16)]
    [InlineData(96000, 16)]
    public void The_rate_and_the_bits_of_a_file_make_no_difference(int rate, int bits)
    {
        var plan = EnginePlan.Balance(4, 750, 9) with { Seconds = 12 };
        var trial = new Trial(4, 750, Scene.Clean, 20, 9) { Plan = plan, Rate = rate };
        var run = trial.Run();

        var trace = SoundSpeed.Read(new MemoryStream(WavFile.Of(trial.Sound(run), rate, bits: bits)), trial.Engine).Value;

        Assert.Equal(12, trace.Points[^1].Seconds, 0.2);
        Assert.InRange(Outcome.Of(plan, run, trace).Median, 0, 0.2);
    }

    [Theory]
    [InlineData(8, 900, 60)] // fires at 60 Hz
    [InlineData(4, 1500, 50)] // fires at 50 Hz
    [InlineData(6, 1300, 60)] // falls to where it would fire at 60 Hz
    public void A_hum_as_loud_as_the_engine_is_not_taken_for_it(int cylinders, int idle, int mainsHz)
    {
        var trial = new Trial(cylinders, idle, new Scene("hum") { HumDb = 0, MainsHz = mainsHz }, 10, 41 + cylinders);
        var run = trial.Run();

        var trace = SoundSpeed.Follow(trial.Sound(run), trial.Rate, trial.Engine);

        var outcome = Outcome.Of(trial.Plan, run, trace);
        Assert.InRange(outcome.Median, 0, 0.2);
        Assert.InRange(outcome.GrossPercent, 0, 0.5);
        Assert.Equal(outcome.Drops, outcome.Found);
        Assert.InRange(outcome.DropError, 0, 3);
    }

    /// <summary>Followed the mains (60 Hz, 1.2 and 1.5 times their firing frequency) before the hum was taken out.</summary>
    [Theory]
    [InlineData(4, 1500, 505500)]
    [InlineData(8, 600, 508600)]
    public void The_hum_in_a_clipped_recording_is_not_taken_for_the_engine(int cylinders, int idle, int seed)
    {
        var trial = new Trial(cylinders, idle, Scene.Clipped, 10, seed);
        var run = trial.Run();

        var trace = SoundSpeed.Follow(trial.Sound(run), trial.Rate, trial.Engine);

        var outcome = Outcome.Of(trial.Plan, run, trace);
        Assert.InRange(outcome.Median, 0, 0.4);
        Assert.InRange(outcome.GrossPercent, 0, 5);
        Assert.Equal(outcome.Drops, outcome.Found);
    }

    [Fact]
    public void A_hum_is_taken_out_of_a_band_and_a_tone_that_wanders_stays()
    {
        const double Rate = 2400;
        var band = new Band(Rate, 0);
        var random = new Random(12);
        var (alone, phase, off) = (new double[(int)(40 * Rate)], 0.0, 0.0);
        for (var i = 0; i < alone.Length; i++)
        {
            // An engine's order about 60 Hz that wanders by a hertz within two seconds, and the mains at 60.04 Hz with four multiples.
            off += (-off / (2 * Rate)) + (Math.Sqrt(2 / (2 * Rate)) * Sounds.Gauss(random));
            phase += 2 * Math.PI * (60 + off) / Rate;
            alone[i] = Math.Sin(phase);
            band.Samples.Add((float)(alone[i] + Enumerable.Range(1, 5).Sum(k => 2.0 / k * Math.Sin((2 * Math.PI * 60.04 * k * i / Rate) + k))));
        }

        MainsHum.TakeOut(band, 1000);

        double[] left = [.. band.Samples.Select((s, i) => s - alone[i])];
        var middle = left[(int)(5 * Rate)..(int)(35 * Rate)];
        Assert.InRange(Math.Sqrt(middle.Average(s => s * s)), 0, 0.35); // 1.7 before
    }

    [Fact]
    public void The_weak_cylinder_gets_its_number_from_the_announced_times()
    {
        var trial = new Trial(6, 750, Scene.Shop, 10, 21);
        var run = trial.Run();
        var trace = SoundSpeed.Follow(trial.Sound(run), trial.Rate, trial.Engine);

        var found = CancellationFinder.Find(trace, new() { Cylinders = 6, Times = [.. trial.Plan.Held.Select(h => new Announced(h.Cylinder + 1, h.From - 0.4, h.To - 0.3))] });

        var weak = Array.IndexOf(trial.Plan.Strength, 0.5) + 1;
        Assert.Equal(6, found.Drops.Length);
        Assert.Equal(weak, found.Drops.MinBy(d => d.Drop)!.Cylinder);
    }

    [Fact]
    public void Without_a_rough_speed_a_common_idle_is_found()
    {
        var trial = new Trial(4, 820, Scene.Clean, 10, 31);
        var run = trial.Run();

        var trace = SoundSpeed.Follow(trial.Sound(run), trial.Rate, EngineToHear.Create(4).Value);

        Assert.InRange(Outcome.Of(trial.Plan, run, trace).Median, 0, 0.3);
    }

    [Fact]
    public void Speeds_up_to_3000_are_followed()
    {
        var plan = EnginePlan.Balance(4, 3000, 5) with { Seconds = 15, Held = [] };
        var trial = new Trial(4, 3000, Scene.Clean, 10, 5) { Plan = plan };
        var run = trial.Run();

        var trace = SoundSpeed.Follow(trial.Sound(run), trial.Rate, EngineToHear.Create(4, 2800).Value);

        Assert.InRange(Outcome.Of(plan, run, trace).Median, 0, 0.2);
    }

    [Fact]
    public void Noise_without_an_engine_is_not_taken_for_a_clear_one()
    {
        var noise = ShopSounds.Pink(16000 * 20, new Random(3));
        Sounds.Level(noise, 0.1);

        var trace = SoundSpeed.Follow(noise, 16000, EngineToHear.Create(4, 750).Value);
        var run = CancellationFinder.Find(trace, new() { Cylinders = 4, Order = [1, 3, 4, 2] });

        Assert.InRange(trace.ClearShare, 0, 0.5);
        Assert.False(run.Usable);
    }

    [Theory]
    [InlineData(0f)]
    [InlineData(1f)]
    public void Silence_and_a_stuck_sample_give_finite_speeds_that_are_not_clear(float sample)
    {
        float[] still = new float[8000 * 5];
        Array.Fill(still, sample);

        var trace = SoundSpeed.Follow(still, 8000, EngineToHear.Create(8, 700).Value);

        Assert.All(trace.Points, p => Assert.True(double.IsFinite(p.Rpm) && p.Rpm is > 200 and < 2000));
        Assert.InRange(trace.ClearShare, 0, 0.3);
    }

    [Fact]
    public void Louder_or_softer_the_speed_is_the_same()
    {
        var trial = new Trial(4, 750, Scene.Clean, 10, 14) { Plan = EnginePlan.Balance(4, 750, 14) with { Seconds = 10 } };
        var sound = trial.Sound(trial.Run());
        float[] soft = [.. sound.Select(s => s / 64)];

        var (a, b) = (SoundSpeed.Follow(sound, 16000, trial.Engine), SoundSpeed.Follow(soft, 16000, trial.Engine));

        Assert.All(a.Points.Zip(b.Points), pair => Assert.Equal(pair.First.Rpm, pair.Second.Rpm, 0.5));
    }
}
