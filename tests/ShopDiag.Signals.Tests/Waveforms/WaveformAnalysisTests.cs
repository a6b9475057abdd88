using ShopDiag.Signals.Measured.Cranking;
using ShopDiag.Signals.Measured.Teeth;
using ShopDiag.Signals.Waveforms;
using ShopDiag.Signals.Waveforms.Csv;
using ShopDiag.Signals.Waveforms.Recognition;
using ShopDiag.Signals.Waveforms.Teeth;

namespace ShopDiag.Signals.Tests.Waveforms;

/// <summary>From a file to values of cylinders: recognised, handed to its judge, said in words.</summary>
public sealed class WaveformAnalysisTests
{
    [Theory]
    [InlineData(2)]
    [InlineData(3)]
    public void Tooth_times_need_no_wheel_where_it_has_a_gap(int seed)
    {
        var trial = new TeethTrial(4, 750, "dead", seed);
        var run = trial.Run();
        var request = trial.Request(run);
        var file = new WaveformFile { EventSeconds = [.. trial.ToothTimes(run)], Rows = 1000 };

        var asked = WaveformAnalysis.Of(file, new() { Cylinders = 4, Order = request.FiringOrder });
        var analysis = WaveformAnalysis.Of(file, new() { Cylinders = 4, Order = request.FiringOrder, TopAfterGap = request.TopAfterGap }).Value;

        Assert.Equal("top", asked.Error!.At);
        Assert.Equal(WaveformKind.ToothTimes, analysis.Kind);
        Assert.Contains(trial.Wheel.Missing == 2 ? "wheel 60-2" : "wheel 36-1", analysis.Findings[0], StringComparison.Ordinal);
        Assert.Equal(4, analysis.Work.Length);
        Assert.Contains(analysis.Work, w => w.Misfiring && w.CouldBe.Contains(trial.Bad[0]));
    }

    [Theory]
    [InlineData(22, 2)]
    [InlineData(23, 1.3)]
    public void From_a_stretch_without_fuel_the_wheel_is_learnt_and_nothing_there_counts_as_a_misfire(int seed, double gap)
    {
        var trial = new TeethTrial(6, 1500, "misfires", seed);
        var run = trial.Run();
        var request = trial.Request(run, cam: false);
        var (fuelled, unfuelled) = (trial.ToothTimes(run), trial.Unfuelled());
        var from = fuelled[^1] + gap;
        double[] rollDown = [.. unfuelled.Select(t => t - unfuelled[0] + from)];
        var told = new WaveformRequest { Cylinders = 6, Order = request.FiringOrder, TopAfterGap = request.TopAfterGap, NoFuel = (from, rollDown[^1]) };

        var analysis = WaveformAnalysis.Of(new WaveformFile { EventSeconds = [.. fuelled, .. rollDown], Rows = 1000 }, told).Value;

        var alone = CrankTeeth.Analyse(fuelled, request with { Errors = ToothErrors.Learn(unfuelled, trial.Wheel).Value });
        Assert.Equal(alone.Cylinders.Select(c => c.Misfires), analysis.Work.Select(c => c.Misfires));
        Assert.Contains("truly stand", analysis.Findings[^1], StringComparison.Ordinal);
        Assert.Contains(analysis.Work, w => w.Misfiring && w.CouldBe.Contains(trial.Bad[0]));

        var tooShort = WaveformAnalysis.Of(new WaveformFile { EventSeconds = [.. fuelled, .. rollDown], Rows = 1000 }, told with { NoFuel = (from, from + 0.1) });
        Assert.Equal("no-fuel", tooShort.Error!.At);
        Assert.Equal("no-fuel", (told with { NoFuel = (3, 2) }).Problem()!.At);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void A_crank_sensors_voltage_comes_to_the_same_as_its_times(bool hall)
    {
        var trial = new TeethTrial(4, 750, "dead", 2) { Seconds = 12 };
        var run = trial.Run();
        var request = trial.Request(run);
        var told = new WaveformRequest { Cylinders = 4, Order = request.FiringOrder, TopAfterGap = request.TopAfterGap, SyncChannel = 2, SyncCylinder = request.Sync!.Cylinder, SyncDegreesBefore = 60 };

        var analysis = WaveformAnalysis.Of(new WaveformFile { Waveform = Sensor(trial.ToothTimes(run), request.Sync.Times, 12, hall), Rows = 1000 }, told).Value;

        Assert.Equal((WaveformKind.CrankSensor, 1), (analysis.Kind, analysis.Channel));
        Assert.Equal(trial.Bad, analysis.Work.Where(w => w.Misfiring).Select(w => w.Cylinder!.Value));
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    public void A_cranking_is_recognised_by_its_current_and_by_the_batterys_voltage(int channel)
    {
        var run = CrankingRun.Of(CrankedEngine.Drawn(4, "one weak", 12) with { SampleRate = 10_000 });
        var recorded = run.Recorded(30, 1);
        var file = new WaveformFile { Waveform = recorded with { Channels = [recorded.Channels[channel], recorded.Channels[2]] }, Rows = recorded.Length };

        var analysis = WaveformAnalysis.Of(file, new() { Cylinders = 4, Order = [1, 3, 4, 2], SyncChannel = 2 }).Value;

        Assert.Equal((WaveformKind.CrankingCurrent, 1), (analysis.Kind, analysis.Channel));
        int[] order = [1, 3, 4, 2];
        Assert.Equal(order[Array.IndexOf(run.TrueShare, run.TrueShare.Min())], analysis.Compression.MinBy(c => c.Percent)!.Cylinder);
        Assert.NotEmpty(analysis.Marks);
        Assert.All(analysis.Marks, m => Assert.Contains(m.Label, (string[])["1", "2", "3", "4"]));
    }

    [Fact]
    public void What_is_missing_is_asked_by_its_place()
    {
        var run = CrankingRun.Of(CrankedEngine.Sound(4, 5) with { SampleRate = 10_000 });
        var recorded = run.Recorded(30, 1);
        var file = new WaveformFile { Waveform = recorded, Rows = recorded.Length };
        var times = new WaveformFile { EventSeconds = [.. Enumerable.Range(0, 2000).Select(i => i * 0.002)], Rows = 2000 };

        Assert.Equal("cylinders", WaveformAnalysis.Of(file, new() { Channel = 1 }).Error!.At);
        Assert.Equal("cylinders", WaveformAnalysis.Of(file, new() { Cylinders = 16 }).Error!.At);
        Assert.Equal("order", WaveformAnalysis.Of(file, new() { Cylinders = 4, Order = [1, 3, 4, 2], EvenFire = false }).Error!.At);
        Assert.Equal("channel", WaveformAnalysis.Of(file, new() { Cylinders = 4, SyncChannel = 4 }).Error!.At);
        Assert.Equal("kind", WaveformAnalysis.Of(file, new() { Cylinders = 4, Kind = WaveformKind.ToothTimes }).Error!.At);
        Assert.Equal("kind", WaveformAnalysis.Of(times, new() { Cylinders = 4, Kind = WaveformKind.CoilCurrent }).Error!.At);
        Assert.Equal("order", WaveformAnalysis.Of(times, new() { Cylinders = 4 }).Error!.At);
        Assert.Equal("wheel", WaveformAnalysis.Of(times, new() { Cylinders = 4, Order = [1, 3, 4, 2] }).Error!.At);
        Assert.Equal("wheel", WaveformAnalysis.Of(times, new() { Cylinders = 4, Order = [1, 3, 4, 2], Wheel = "60/2" }).Error!.At);
    }

    /// <summary>A sensor that falls through zero, or rises, at each time, and a cam that is high for 5 ms.</summary>
    private static Waveform Sensor(double[] teeth, IReadOnlyList<double> cam, double seconds, bool hall)
    {
        const double Rate = 50_000;
        var (sensor, pulses) = (new float[(int)(seconds * Rate)], new float[(int)(seconds * Rate)]);
        var (next, pulse) = (1, 0);
        for (var i = 0; i < sensor.Length; i++)
        {
            var t = i / Rate;
            while (next + 1 < teeth.Length && teeth[next] <= t)
            {
                next++;
            }

            var (before, after) = (teeth[next - 1], teeth[next]);
            var usual = Math.Min(after - before, next > 1 ? 1.3 * (teeth[next - 1] - teeth[next - 2]) : after - before);
            sensor[i] = (float)(hall ? (t - before < usual / 2 ? 5 : 0.2) : t - before < usual / 2 ? -Math.Sin(2 * Math.PI * (t - before) / usual) : after - t < usual / 2 ? Math.Sin(2 * Math.PI * (after - t) / usual) : 0);
            while (pulse + 1 < cam.Count && cam[pulse + 1] <= t)
            {
                pulse++;
            }

            pulses[i] = t >= cam[pulse] && t < cam[pulse] + 0.005 ? 5 : 0;
        }

        return new(Rate, 0, [new("crank", "V", sensor), new("cam", "V", pulses)]);
    }
}
