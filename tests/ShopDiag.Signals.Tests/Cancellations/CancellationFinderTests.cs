using CsCheck;
using ShopDiag.Signals.Cancellations;
using ShopDiag.Signals.Speed;
using static ShopDiag.Signals.Tests.Cancellations.Traces;

namespace ShopDiag.Signals.Tests.Cancellations;

public sealed class CancellationFinderTests
{
    [Fact]
    public void Each_cancellation_is_found_where_it_was_with_its_drop_and_its_cylinder()
    {
        var run = Find(Of(38, Round(80, 75, 30, 90)), order: [1, 3, 4, 2]);

        Assert.True(run.Usable, string.Join(" ", run.Reasons));
        Assert.Empty(run.Reasons);
        Assert.Equal([1, 3, 4, 2], run.Drops.Select(d => d.Cylinder!.Value));
        Assert.All(run.Drops.Zip([80.0, 75, 30, 90]), pair => Assert.Equal(pair.Second, pair.First.Drop, 3.0));
        Assert.All(run.Drops.Select((d, i) => (d, i)), pair =>
        {
            Assert.Equal(5 + (8 * pair.i), pair.d.Start, 0.3);
            Assert.Equal(8 + (8 * pair.i), pair.d.End, 0.3);
            Assert.InRange(pair.d.Confidence, 0.5, 1);
        });
    }

    [Fact]
    public void The_standard_error_says_how_far_off_drops_are_when_the_idle_wanders()
    {
        // 60 runs of an idle that wanders by 5 rpm: the drops differ from 80 by about what each run says of itself.
        var runs = Enumerable.Range(0, 60).Select(seed => Find(Of(38, Round(80, 80, 80, 80), wander: 5, seed: seed))).ToList();
        var errors = runs.SelectMany(r => r.Drops).Select(d => (d.Drop - 80) / d.StandardError).ToList();

        var rms = Math.Sqrt(errors.Average(e => e * e));
        Assert.InRange(rms, 0.4, 1.8);
    }

    [Fact]
    public void A_missed_one_is_shown_and_nothing_is_shifted_into_its_place()
    {
        // The third of four shows no drop.
        var run = Find(Of(38, Round(80, 75, 0, 90)), order: [1, 3, 4, 2]);

        Assert.False(run.Usable);
        Assert.Equal(3, run.Drops.Length);
        Assert.All(run.Drops, d => Assert.Null(d.Cylinder));
        Assert.Equal([1, 3], run.Drops[0].CouldBe);
        Assert.Equal([4, 2], run.Drops[2].CouldBe);
        Assert.Contains(run.Reasons, r => r.Contains("4 cancellations were announced and 3 found", StringComparison.Ordinal));
        Assert.Contains(run.Reasons, r => r.Contains("cannot be told apart", StringComparison.Ordinal) && r.Contains("between drops 2 and 3", StringComparison.Ordinal));
    }

    [Fact]
    public void An_extra_one_is_shown_and_nothing_is_shifted_into_its_place()
    {
        var run = Find(Of(46, Round(80, 75, 60, 90, 70)), order: [1, 3, 4, 2]);

        Assert.False(run.Usable);
        Assert.Equal(5, run.Drops.Length);
        Assert.All(run.Drops, d => Assert.Null(d.Cylinder));
        Assert.Equal([1], run.Drops[0].CouldBe);
        Assert.Equal([1, 3], run.Drops[1].CouldBe);
    }

    [Fact]
    public void With_announced_times_a_dead_cylinder_is_told_from_a_missed_one()
    {
        Announced[] times = [new(1, 4.6, 7.8), new(3, 12.7, 15.9), new(4, 20.6, 23.8), new(2, 28.8, 31.9)];
        var held = Round(80, 75, 0, 90);

        var clear = Find(Of(38, held), times: times);
        var noisy = Find(Of(38, held, confidence: t => t is > 19 and < 25 ? 0.1 : 1), times: times);

        Assert.Equal([DropKind.Heard, DropKind.Heard, DropKind.NoDrop, DropKind.Heard], clear.Drops.Select(d => d.Kind));
        Assert.Equal([1, 3, 4, 2], clear.Drops.Select(d => d.Cylinder!.Value));
        Assert.InRange(clear.Drops[2].Drop, -4, 4);
        Assert.True(clear.Usable, string.Join(" ", clear.Reasons));
        Assert.Equal(DropKind.Unclear, noisy.Drops[2].Kind);
        Assert.Equal(4, noisy.Drops[2].Cylinder);
        Assert.False(noisy.Usable);
        Assert.Contains(noisy.Reasons, r => r.Contains("may have been missed", StringComparison.Ordinal));
    }

    [Fact]
    public void A_fall_that_nobody_announced_is_shown_as_such()
    {
        var run = Find(Of(30, Round(80, 75, 60)), times: [new(1, 4.6, 7.8), new(3, 20.6, 23.8)]);

        Assert.Equal([DropKind.Heard, DropKind.Unannounced, DropKind.Heard], run.Drops.Select(d => d.Kind));
        Assert.Equal([1, null, 3], run.Drops.Select(d => d.Cylinder));
        Assert.False(run.Usable);
    }

    [Fact]
    public void A_fall_that_did_not_come_back_is_incomplete()
    {
        var run = Find(Of(24, [.. Round(80, 75), (21.0, 30.0, 80.0)]), order: [1, 3, 4]);

        Assert.Equal(DropKind.Incomplete, run.Drops[^1].Kind);
        Assert.Null(run.Drops[^1].Cylinder);
        Assert.False(run.Usable);
    }

    [Fact]
    public void An_idle_control_that_brings_the_speed_back_is_named()
    {
        // While off, the control wins back most of the drop; on release the speed shoots over.
        var trace = Of(30, []);
        var points = trace.Points.Select(p => p with { Rpm = p.Rpm - Hidden(p.Seconds - 6) - Hidden(p.Seconds - 16) });

        var run = Find(trace with { Points = [.. points] });

        Assert.False(run.Usable, string.Join(" ", run.Drops));
        Assert.Contains(run.Reasons, r => r.Contains("idle control", StringComparison.OrdinalIgnoreCase));

        static double Hidden(double t) => t < 0 ? 0 : t < 4 ? 70 * (1 - Math.Exp(-t / 0.25)) * Math.Exp(-t / 1.6) : -60 * Math.Exp(-(t - 4) / 1.2) * (1 - Math.Exp(-(t - 4) / 0.2));
    }

    [Fact]
    public void Where_nothing_falls_the_idle_control_and_a_run_not_taken_are_named_as_the_reasons()
    {
        var run = Find(Of(30, []), order: [1, 3, 4, 2]);

        Assert.Empty(run.Drops);
        Assert.Contains(run.Reasons, r => r.Contains("open loop", StringComparison.Ordinal));
    }

    [Fact]
    public void An_engine_that_wanders_more_than_a_cylinder_is_worth_is_called_unsteady()
    {
        var run = Find(Of(60, [], wander: 25, seed: 3));

        Assert.False(run.Usable);
        Assert.True(run.WanderRpm > 10);
    }

    [Fact]
    public void A_trace_that_is_hardly_ever_clear_is_too_noisy()
    {
        var run = Find(Of(38, Round(80, 75, 60, 90), confidence: t => t % 1 < 0.7 ? 0.1 : 1), order: [1, 3, 4, 2]);

        Assert.False(run.Usable);
        Assert.Contains(run.Reasons, r => r.Contains("Too noisy", StringComparison.Ordinal));
    }

    [Fact]
    public void Traces_that_are_empty_or_short_have_no_cancellations_and_say_so()
    {
        Assert.Contains("too short", Assert.Single(Find(new() { Points = [] }).Reasons), StringComparison.Ordinal);
        Assert.Contains("too short", Assert.Single(Find(Of(2, [])).Reasons), StringComparison.Ordinal);
    }

    [Fact]
    public void Hardly_ever_is_a_usable_cancellation_found_on_an_engine_that_only_idles()
    {
        // 120 idles of 40 s that wander by 1 to 4 rpm.
        var found = Enumerable.Range(0, 120).Count(seed => Find(Of(40, [], wander: 1 + (seed % 4), seed: seed)) is { Usable: true });

        Assert.InRange(found, 0, 6);
    }

    [Fact]
    public void Shifting_a_trace_in_time_shifts_its_drops_and_nothing_else() =>
        Gen.Select(Gen.Double[-50, 50], Gen.Int[0, 1000]).Sample(
            (shift, seed) =>
            {
                var trace = Of(38, Round(80, 75, 60, 90), seed: seed);
                var moved = trace with { Points = [.. trace.Points.Select(p => p with { Seconds = p.Seconds + shift })] };
                var (a, b) = (Find(trace), Find(moved));

                Assert.Equal(a.Drops.Length, b.Drops.Length);
                Assert.All(a.Drops.Zip(b.Drops), pair =>
                {
                    Assert.Equal(pair.First.Start + shift, pair.Second.Start, 0.11);
                    Assert.Equal(pair.First.Drop, pair.Second.Drop, 1.5);
                });
            },
            iter: 40);

    [Fact]
    public void Any_trace_at_all_is_answered() =>
        Gen.Select(Gen.Double[0, 3000].Array[0, 200], Gen.Double[0.01, 3].Array[200], Gen.Int[3, 12]).Sample(
            (speeds, steps, cylinders) =>
            {
                var t = 0.0;
                SpeedPoint[] points = [.. speeds.Select((s, i) => new SpeedPoint(t += steps[i], s, 1))];
                var run = Find(new() { Points = [.. points] }, cylinders, order: [1, 2, 3], times: cylinders % 2 == 0 ? [new(1, 3, 6), new(2, 300, 303)] : []);

                Assert.All(run.Drops, d => Assert.True(d.End >= d.Start && double.IsFinite(d.Drop) && d.StandardError >= 0));
            },
            iter: 300);
}
