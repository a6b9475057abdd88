using System.Collections.Immutable;
using ShopDiag.Signals.Measured.Teeth;
using ShopDiag.Signals.Waveforms.Teeth;

namespace ShopDiag.Signals.Tests.Waveforms;

public sealed class CrankTeethTests
{
    private static readonly TeethTrial Four = new(4, 800, "misfires", 41);
    private static readonly Lazy<(double[] Times, TeethRequest Request)> Recorded = new(() => Four.Run() is var run ? (Four.ToothTimes(run), Four.Request(run)) : default);

    public static TheoryData<int, string, bool> Engines =>
    [
        .. from n in new[] { 3, 4, 5, 6, 8 }
           from kind in TeethTrial.Kinds
           from learnt in new[] { false, true }
           select (n, kind, learnt),
    ];

    [Theory]
    [MemberData(nameof(Engines))]
    public void Every_misfiring_cylinder_is_named_and_no_other(int cylinders, string wrong, bool learnt)
    {
        foreach (var rpm in new[] { 700, 1500 })
        {
            // Two that are wholly lost at a high speed, of eight, take teeth whose errors are known.
            var trial = new TeethTrial(cylinders, cylinders == 8 && !learnt && wrong == "two dead" ? 700 : rpm, wrong, 51 + cylinders + rpm);

            var outcome = TeethTable.Of(trial, learnt);

            Assert.Equal((trial.Bad.Length, 0, false), (outcome.Named, outcome.False, outcome.Refused));
            Assert.InRange(outcome.Counted, 0.93 * outcome.Lost, 1.04 * outcome.Lost);
        }
    }

    [Fact]
    public void A_lost_firing_is_0_and_a_sound_cylinder_about_100_percent()
    {
        var trial = new TeethTrial(6, 800, "dead", 61);
        var run = trial.Run();

        var result = CrankTeeth.Analyse(trial.ToothTimes(run), trial.Request(run));

        Assert.Equal(trial.Order, result.Cylinders.Select(c => c.Cylinder!.Value));
        Assert.All(result.Cylinders, c => Assert.Equal(trial.Bad.Contains(c.Cylinder!.Value) ? 0 : 100, c.WorkPercent!.Value, 15.0));
        Assert.All(result.Speed, p => Assert.InRange(p.Rpm, 500, 1100));
        Assert.Equal(run.MeanRpm(1, 19), result.Rpm, 10.0);
    }

    [Fact]
    public void A_sound_engine_has_no_scale_and_no_misfire()
    {
        var trial = new TeethTrial(4, 900, "sound", 62);
        var run = trial.Run();

        Assert.All(CrankTeeth.Analyse(trial.ToothTimes(run), trial.Request(run)).Cylinders, c => Assert.Equal((0, null), (c.Misfires, c.WorkPercent)));
    }

    [Fact]
    public void Turning_the_firing_order_turns_the_answer()
    {
        var (times, request) = Recorded.Value;
        int[] other = [7, 9, 5, 3];

        var (a, b) = (CrankTeeth.Analyse(times, request), CrankTeeth.Analyse(times, request with { FiringOrder = [.. other], Sync = request.Sync! with { Cylinder = 9 } }));

        Assert.Equal(a.Cylinders.Select(c => c.Misfires), b.Cylinders.Select(c => c.Misfires));
        Assert.Equal(other, b.Cylinders.Select(c => c.Cylinder!.Value));
    }

    [Fact]
    public void Without_a_cam_signal_a_cylinder_is_not_told_from_its_companion()
    {
        var (times, request) = Recorded.Value;

        var result = CrankTeeth.Analyse(times, request with { Sync = null });

        var bad = Assert.Single(result.Cylinders, c => c.Misfiring);
        Assert.Null(bad.Cylinder);
        Assert.Contains(Four.Bad[0], bad.CouldBe);
        Assert.Equal(2, bad.CouldBe.Length);
        Assert.Contains(result.Remarks, r => r.Contains("companion", StringComparison.Ordinal));
    }

    [Fact]
    public void With_an_odd_number_of_cylinders_the_speed_itself_tells_the_stroke()
    {
        var trial = new TeethTrial(5, 800, "dead", 63);
        var run = trial.Run();

        var result = CrankTeeth.Analyse(trial.ToothTimes(run), trial.Request(run, cam: false));

        Assert.Equal(trial.Bad, result.Cylinders.Where(c => c.Misfiring).Select(c => c.Cylinder!.Value));
    }

    [Fact]
    public void A_plain_wheel_is_read_with_a_cam_signal_and_refused_without()
    {
        var trial = new TeethTrial(4, 800, "dead", 64) { Wheel = ToothWheel.Create(60, 0).Value };
        var run = trial.Run();
        var times = trial.ToothTimes(run);

        var result = CrankTeeth.Analyse(times, trial.Request(run));

        Assert.Equal(trial.Bad, result.Cylinders.Where(c => c.Misfiring).Select(c => c.Cylinder!.Value));
        Assert.Contains("cam", CrankTeeth.Analyse(times, trial.Request(run, cam: false)).Refused, StringComparison.Ordinal);
    }

    [Fact]
    public void Teeth_that_the_sensor_missed_or_made_up_blame_no_sound_cylinder()
    {
        var (times, request) = Recorded.Value;
        var spoilt = times.ToList();
        for (var i = 2000; i > 0; i -= 731)
        {
            spoilt.RemoveAt(i);
            spoilt.Insert(i - 300, (spoilt[i - 301] + spoilt[i - 300]) / 2);
        }

        var result = CrankTeeth.Analyse([.. spoilt], request);

        // So many at once may be refused or leave a misfire unnamed; they must not name another.
        Assert.Subset(Four.Bad.ToHashSet(), result.Cylinders.Where(c => c.Misfiring).Select(c => c.Cylinder!.Value).ToHashSet());
    }

    [Fact]
    public void The_errors_of_the_teeth_are_learnt_with_the_fuel_cut()
    {
        var trial = new TeethTrial(6, 800, "sound", 65);

        var learnt = ToothErrors.Learn(trial.Unfuelled(), trial.Wheel).Value.Degrees;

        var mean = trial.TrueErrors.Average();
        var wrong = learnt.Zip(trial.TrueErrors, (a, b) => a - (b - mean)).ToArray();

        // What is alike for all cylinders (here the compressions, three a revolution) stays in; it takes nothing from their comparison.
        var rms = Math.Sqrt(Enumerable.Range(1, 2).Sum(order => Math.Pow(2 * Amplitude(wrong, order, trial.Wheel), 2) / 2));
        Assert.InRange(rms, 0, 0.15 * trial.ToothError * trial.Wheel.Pitch);
    }

    [Theory]
    [InlineData(ToothSensor.Reluctance, 0.02)]
    [InlineData(ToothSensor.Hall, 0.1)]
    public void Teeth_are_found_in_the_sensors_voltage_finer_than_the_samples(ToothSensor sensor, double noise)
    {
        var times = Recorded.Value.Times[..2000];
        const double Rate = 50000;

        var found = ToothEdges.Find(SensorVoltage.Of(times, Rate, sensor, noise, 3), Rate, sensor);

        Assert.Equal(times.Length - 2, found.Length, 1.0);
        Assert.All(found.Take(1900).Select(f => times.Min(t => Math.Abs(t - f))), apart => Assert.InRange(apart, 0, 0.6 / Rate));
    }

    [Fact]
    public void What_cannot_be_read_is_refused_with_a_reason()
    {
        var (times, request) = Recorded.Value;
        string Why(double[] t, TeethRequest? r = null) => CrankTeeth.Analyse(t, r ?? request).Refused ?? "";

        Assert.Contains("too few", Why([]), StringComparison.Ordinal);
        Assert.Contains("full working cycles", Why(times[..600]), StringComparison.Ordinal);
        Assert.Contains("do not rise", Why([.. times.Take(500), .. times.Take(500)]), StringComparison.Ordinal);
        Assert.Contains("above 3000", Why([.. times.Select(t => t / 4.5)], request with { Sync = request.Sync! with { Times = [.. request.Sync.Times.Select(t => t / 4.5)] } }), StringComparison.Ordinal);
        Assert.Contains("From gap to gap", Why(times, request with { Wheel = ToothWheel.Create(request.Wheel.Places == 60 ? 58 : 48, request.Wheel.Missing).Value }), StringComparison.Ordinal);
        Assert.Contains("not found", Why([.. Enumerable.Range(0, 5000).Select(i => i * 0.002)]), StringComparison.Ordinal);
        var running = times.Select(t => t * (1 - (0.02 * t))).ToArray();
        Assert.Contains("too much", Why(running, request with { Sync = request.Sync! with { Times = [.. request.Sync.Times.Select(t => t * (1 - (0.02 * t)))] } }), StringComparison.Ordinal);
        Assert.Throws<ArgumentException>(() => CrankTeeth.Analyse(times, request with { FiringOrder = ImmutableArray.Create(1, 2, 2, 4) }));
    }

    private static double Amplitude(double[] values, int order, ToothWheel wheel)
    {
        var (sin, cos) = (0.0, 0.0);
        for (var k = 0; k < values.Length; k++)
        {
            var (s, c) = Math.SinCos(2 * Math.PI * order * k / wheel.Places);
            (sin, cos) = (sin + (s * values[k]), cos + (c * values[k]));
        }

        return Math.Sqrt((sin * sin) + (cos * cos)) / values.Length;
    }
}
