using ShopDiag.Signals.Measured.Cranking;
using ShopDiag.Signals.Waveforms.Cranking;

namespace ShopDiag.Signals.Tests.Waveforms;

public sealed class CrankingCurrentTests
{
    /// <summary>What the right number of cylinders explains at least, and a wrong one at most: the limit between is 0.97 (docs/waveforms.md has all of what was measured).</summary>
    private const double RightExplains = 0.975, WrongExplains = 0.96;

    private static readonly Lazy<(CrankingTrial Trial, CrankingResult Result)> Four = new(() => Played(4, "one weak", 71));

    [Theory]
    [InlineData(3, "one weak")]
    [InlineData(4, "two weak")]
    [InlineData(4, "dead")]
    [InlineData(5, "one weak")]
    [InlineData(6, "two weak")]
    [InlineData(8, "one weak")]
    [InlineData(8, "dead")]
    public void Compression_is_read_within_three_points_and_the_weakest_is_named(int cylinders, string wrong)
    {
        var (trial, result) = Played(cylinders, wrong, 71);

        Assert.Null(result.Refused);
        Assert.True(result.Assigned);
        var read = ByNumber(result);
        Assert.InRange(read.Zip(trial.Truth, (a, b) => Math.Abs(a - (100 * b))).Average(), 0, 3);
        Assert.Equal(Array.IndexOf(trial.Truth, trial.Truth.Min()), Array.IndexOf(read, read.Min()));
        Assert.InRange(result.Rpm, 0.96 * trial.Run.Rpm, 1.04 * trial.Run.Rpm);
    }

    [Theory]
    [InlineData(4)]
    [InlineData(6)]
    public void A_sound_engine_has_no_weak_cylinder(int cylinders)
    {
        var (_, result) = Played(cylinders, "sound", 72);

        Assert.All(result.Cylinders, c => Assert.InRange(c.Percent, 95, 105));
        Assert.All(result.Cylinders, c => Assert.InRange(c.StandardError, 0.001, 5));
    }

    [Fact]
    public void The_clamps_gain_and_offset_do_not_matter()
    {
        var (trial, result) = Four.Value;
        float[] other = [.. trial.Recorded.Channels[0].Samples.Select(s => (s * 0.01f) + 7)];

        var again = CrankingCurrent.Analyse(trial.Recorded with { Channels = [new("clamp", "V", other), .. trial.Recorded.Channels.Skip(1)] }, trial.Request);

        Assert.All(result.Cylinders.Zip(again.Cylinders), p => Assert.Equal(p.First.Percent, p.Second.Percent, 0.3));
    }

    [Fact]
    public void The_batterys_voltage_tells_the_same()
    {
        var (trial, result) = Four.Value;

        var again = CrankingCurrent.Analyse(trial.Recorded, trial.Request with { Channel = 1, Signal = CrankingSignal.BatteryVoltage });

        Assert.All(ByNumber(result).Zip(ByNumber(again)), p => Assert.Equal(p.First, p.Second, 4.0));
    }

    [Fact]
    public void Turning_the_firing_order_turns_the_answer()
    {
        var (trial, result) = Four.Value;

        var renamed = CrankingCurrent.Analyse(trial.Recorded, trial.Request with { FiringOrder = [3, 4, 1, 2], Sync = new(2, 3) });

        Assert.All(result.Cylinders, c => Assert.Equal(c.Percent, renamed.Cylinders.Single(t => t.Cylinder == ((c.Cylinder + 1) % 4) + 1).Percent));
    }

    [Fact]
    public void Without_a_sync_trace_the_humps_have_letters_in_firing_order()
    {
        var (trial, result) = Four.Value;

        var unknown = CrankingCurrent.Analyse(trial.Recorded, trial.Request with { Sync = null });

        Assert.False(unknown.Assigned);
        Assert.All(unknown.Cylinders, c => Assert.Null(c.Cylinder));
        Assert.Equal("ABCD", string.Concat(unknown.Cylinders.Select(c => c.Position)));
        Assert.Equal(result.Cylinders.Select(c => c.Percent), unknown.Cylinders.Select(c => c.Percent));
        Assert.Contains(unknown.Remarks, r => r.Contains("start unknown", StringComparison.Ordinal));
    }

    [Fact]
    public void Each_mark_is_one_firing_after_the_last()
    {
        var (_, result) = Four.Value;

        Assert.InRange(result.Marks.Length, (4 * result.Cycles) - 1, (4 * result.Cycles) + 4);
        Assert.All(result.Marks.Zip(result.Marks.Skip(1)), p => Assert.Equal((p.First.Position - 'A' + 1) % 4, p.Second.Position - 'A'));
    }

    [Fact]
    public void It_always_says_that_it_only_compares() => Assert.Contains(CrankingResult.OnlyCompares, Four.Value.Result.Remarks);

    [Fact]
    public void Too_short_a_cranking_is_refused() => Assert.NotNull(Of(Four.Value.Trial.Recorded.Channels[0].Samples[..(int)(1.9 * Four.Value.Trial.Recorded.SampleRate)]).Refused);

    // Whatever the noise: what lies above 50 Hz is filtered out before the fit.
    [Theory]
    [InlineData(3, 30)]
    [InlineData(3, 40)]
    [InlineData(4, 20)]
    [InlineData(4, 40)]
    [InlineData(5, 30)]
    [InlineData(6, 30)]
    [InlineData(6, 40)]
    [InlineData(8, 30)]
    public void The_right_number_of_cylinders_leaves_no_doubt(int cylinders, double snr)
    {
        var trial = new CrankingTrial(cylinders, "one weak", snr, 71 + (1000 * cylinders));

        var result = CrankingCurrent.Analyse(trial.Recorded, trial.Request);

        Assert.False(result.Doubtful);
        Assert.InRange(result.R2, RightExplains, 1);
    }

    [Theory]
    [InlineData(3, 4, 30)]
    [InlineData(4, 3, 20)]
    [InlineData(4, 5, 20)]
    [InlineData(4, 5, 40)]
    [InlineData(6, 5, 20)]
    [InlineData(6, 5, 40)]
    public void A_wrong_number_of_cylinders_is_doubtful_and_the_remark_says_so(int cylinders, int said, double snr)
    {
        var trial = new CrankingTrial(cylinders, "one weak", snr, 71 + (1000 * cylinders));

        var result = CrankingCurrent.Analyse(trial.Recorded, new() { Channel = 0, Cylinders = said });

        Assert.True(result.Doubtful);
        Assert.InRange(result.R2, 0, WrongExplains);
        Assert.Contains(result.Remarks, r => r.Contains("another number of cylinders", StringComparison.Ordinal));
    }

    // Equal humps do not show where a cycle ends: nothing tells the number, and nothing wrong is read.
    [Theory]
    [InlineData(3, 4)]
    [InlineData(4, 3)]
    [InlineData(4, 5)]
    public void A_sound_engine_reads_sound_whatever_number_of_cylinders_is_said(int cylinders, int said)
    {
        var trial = new CrankingTrial(cylinders, "sound", 20, 71 + (1000 * cylinders));

        var result = CrankingCurrent.Analyse(trial.Recorded, new() { Channel = 0, Cylinders = said });

        Assert.Null(result.Refused);
        Assert.All(result.Cylinders, c => Assert.InRange(c.Percent, 97, 103));
    }

    [Fact]
    public void Cut_off_humps_are_refused()
    {
        var samples = Four.Value.Trial.Recorded.Channels[0].Samples;
        var limit = samples.Skip(samples.Length / 3).Take(samples.Length / 3).Order().ElementAt(samples.Length / 3 * 3 / 4);

        Assert.Contains("cut off", Of([.. samples.Select(s => Math.Min(s, limit))]).Refused, StringComparison.Ordinal);
    }

    [Fact]
    public void A_trace_without_humps_is_refused()
    {
        var random = new Random(5);

        Assert.NotNull(Of(new float[8000]).Refused);
        Assert.NotNull(Of([.. Enumerable.Range(0, 8000).Select(_ => (float)random.NextDouble())]).Refused);
        Assert.NotNull(Of([.. Enumerable.Repeat(float.NaN, 8000)]).Refused);
        Assert.NotNull(Of([]).Refused);
    }

    [Fact]
    public void A_pulse_that_does_not_come_once_a_cycle_assigns_nothing()
    {
        var (trial, _) = Four.Value;
        var rate = trial.Recorded.SampleRate;
        float[] often = [.. Enumerable.Range(0, trial.Recorded.Length).Select(i => i / rate % 0.1 < 0.01 ? 5f : 0)];

        var result = CrankingCurrent.Analyse(trial.Recorded with { Channels = [trial.Recorded.Channels[0], new("sync", "V", often)] }, trial.Request with { Sync = new(1, 1) });

        Assert.False(result.Assigned);
        Assert.Contains(result.Remarks, r => r.Contains("pulses a working cycle", StringComparison.Ordinal));
    }

    [Fact]
    public void A_channel_or_an_order_that_is_not_there_throws()
    {
        var (trial, _) = Four.Value;

        Assert.Throws<ArgumentOutOfRangeException>(() => CrankingCurrent.Analyse(trial.Recorded, trial.Request with { Channel = 9 }));
        Assert.Throws<ArgumentException>(() => CrankingCurrent.Analyse(trial.Recorded, trial.Request with { FiringOrder = [1, 2, 2, 4] }));
    }

    private static CrankingResult Of(float[] samples) =>
        CrankingCurrent.Analyse(new(Four.Value.Trial.Recorded.SampleRate, 0, [new("current", "A", samples)]), new() { Channel = 0, Cylinders = 4 });

    private static (CrankingTrial Trial, CrankingResult Result) Played(int cylinders, string wrong, int seed)
    {
        var trial = new CrankingTrial(cylinders, wrong, 20, seed + (1000 * cylinders));
        return (trial, CrankingCurrent.Analyse(trial.Recorded, trial.Request));
    }

    private static double[] ByNumber(CrankingResult result) => [.. result.Cylinders.OrderBy(c => c.Cylinder).Select(c => c.Percent)];
}
