using ShopDiag.Signals.Guided;
using ShopDiag.Signals.Speed;

namespace ShopDiag.Signals.Tests.Guided;

public sealed class GuidedRunTests
{
    private const double Step = 0.1;

    [Fact]
    public void It_goes_through_all_cylinders_by_itself_and_notes_when_each_was_off()
    {
        var bench = new Bench([1, 3, 4, 2]);

        bench.Until(r => r.Phase == RunPhase.Done);

        Assert.Equal([1, 3, 4, 2], bench.Run.Passes.Select(p => p.Cylinder));
        Assert.All(bench.Run.Passes, p => Assert.True(p.DropSeen && !p.TakenBack));
        Assert.All(bench.Run.Passes, p => Assert.InRange(p.To - p.From, 2, 5));
        Assert.Null(bench.Run.Cylinder);
    }

    [Fact]
    public void Nothing_is_cancelled_before_the_speed_keeps_still()
    {
        var bench = new Bench([1]) { Wobble = 30 };
        bench.For(20);
        Assert.Equal(RunPhase.Waiting, bench.Run.Phase);
        bench.Wobble = 0;
        bench.Until(r => r.Phase == RunPhase.Ready);
        Assert.Equal(750, bench.Run.BaseRpm, 5.0);
    }

    [Theory]
    //          hold, drop of the cylinder, longest time off
    [InlineData(2, 60, 3.0)]
    [InlineData(3, 60, 4.0)]
    [InlineData(5, 60, 6.0)]
    [InlineData(2, 0, 4.2)]
    [InlineData(5, 0, 7.2)]
    public void A_cylinder_is_never_off_for_longer_than_the_hold_and_the_reach_of_a_hand(double hold, double drop, double longest)
    {
        var bench = new Bench([1, 2], hold: hold) { Drop = _ => drop };
        bench.Until(r => r.Phase == RunPhase.Done);
        Assert.All(bench.Run.Passes, p => Assert.InRange(p.To - p.From, hold, longest));
        Assert.All(bench.Run.Passes, p => Assert.Equal(drop > 0, p.DropSeen));
    }

    [Fact]
    public void A_dead_cylinder_does_not_stop_the_run_and_is_noted_as_no_drop_seen()
    {
        var bench = new Bench([1, 2, 3]) { Drop = c => c == 2 ? 0 : 60 };
        bench.Until(r => r.Phase == RunPhase.Done);
        Assert.Equal([true, false, true], bench.Run.Passes.Select(p => p.DropSeen));
    }

    [Fact]
    public void An_idle_control_that_makes_the_speed_up_again_does_not_stop_the_run()
    {
        var bench = new Bench([1, 2], hold: 5) { MadeUpAfter = 2 };
        bench.Until(r => r.Phase == RunPhase.Done);
        Assert.Equal([1, 2], bench.Run.Passes.Select(p => p.Cylinder));
        Assert.All(bench.Run.Passes, p => Assert.True(p.DropSeen));
    }

    [Fact]
    public void A_hand_that_is_quicker_than_the_word_still_counts()
    {
        var bench = new Bench([1, 2]);
        bench.Until(r => r.Phase == RunPhase.Ready);
        bench.For(1);
        var cancelled = bench.Now;
        bench.Until(r => r.Phase == RunPhase.Off, off: true);
        bench.Until(r => r.Passes.Length == 1);
        Assert.Equal((1, true), (bench.Run.Passes[0].Cylinder, bench.Run.Passes[0].DropSeen));
        Assert.InRange(bench.Run.Passes[0].From - cancelled, -0.7, 1.0);
    }

    [Fact]
    public void A_speed_that_does_not_come_back_is_said_and_waits_for_a_hand()
    {
        var bench = new Bench([1, 2]) { Restores = false };
        bench.Until(r => r.Phase == RunPhase.Restoring);
        bench.For(5);
        Assert.False(bench.Run.IsOverdue);
        bench.For(25);
        Assert.Equal((RunPhase.Restoring, true), (bench.Run.Phase, bench.Run.IsOverdue));
        bench.Restores = true;
        bench.Run.Restored(bench.Now);
        Assert.Equal((RunPhase.Waiting, false, 2), (bench.Run.Phase, bench.Run.IsOverdue, bench.Run.Cylinder));
    }

    [Fact]
    public void Between_two_cylinders_lies_the_rest_asked_for()
    {
        var bench = new Bench([1, 2], rest: 20);
        bench.Until(r => r.Passes.Length == 1);
        var back = bench.Now;
        bench.Until(r => r.Phase == RunPhase.Cancelling);
        Assert.InRange(bench.Now - back, 20, 24);
    }

    [Fact]
    public void A_pause_in_a_turn_breaks_it_off_says_what_to_restore_and_takes_it_again()
    {
        var bench = new Bench([1, 2]);
        bench.Until(r => r.Phase == RunPhase.Off);
        bench.Run.Pause(bench.Now);
        Assert.Equal((RunPhase.Paused, 1), (bench.Run.Phase, bench.Run.RestoreFirst));
        bench.For(60);
        Assert.Equal(RunPhase.Paused, bench.Run.Phase);
        bench.Run.Resume(bench.Now);
        Assert.Null(bench.Run.RestoreFirst);
        bench.Until(r => r.Phase == RunPhase.Done);
        Assert.Equal([(1, true), (1, false), (2, false)], bench.Run.Passes.Select(p => (p.Cylinder, p.TakenBack)));
    }

    [Fact]
    public void One_cylinder_is_taken_again_and_its_earlier_turn_is_kept_but_does_not_count()
    {
        var bench = new Bench([1, 2, 3]);
        bench.Until(r => r.Passes.Length == 2);
        Assert.True(bench.Run.Again(1, bench.Now));
        Assert.False(bench.Run.Again(3, bench.Now));
        bench.Until(r => r.Phase == RunPhase.Done);
        Assert.Equal([(1, true), (2, false), (1, false), (3, false)], bench.Run.Passes.Select(p => (p.Cylinder, p.TakenBack)));
    }

    [Fact]
    public void The_last_turn_can_be_taken_back_even_while_the_recording_closes()
    {
        var bench = new Bench([1, 2]);
        bench.Until(r => r.Phase == RunPhase.Closing);
        Assert.True(bench.Run.Undo(bench.Now));
        Assert.Equal((RunPhase.Waiting, 2), (bench.Run.Phase, bench.Run.Cylinder));
        bench.Until(r => r.Phase == RunPhase.Done);
        Assert.Equal([1, 2], bench.Run.Passes.Where(p => !p.TakenBack).Select(p => p.Cylinder));
    }

    [Fact]
    public void A_skipped_cylinder_is_left_out_and_a_stopped_run_keeps_what_was_taken()
    {
        var bench = new Bench([1, 2, 3, 4]);
        bench.Run.Skip(bench.Now);
        bench.Until(r => r.Passes.Length == 1);
        bench.Run.Stop(bench.Now);
        Assert.Equal(RunPhase.Closing, bench.Run.Phase);
        bench.Until(r => r.Phase == RunPhase.Done);
        Assert.Equal([2], bench.Run.Passes.Select(p => p.Cylinder));
    }

    [Fact]
    public void While_a_cylinder_is_off_nothing_leads_past_restoring_it()
    {
        var bench = new Bench([1, 2]);
        bench.Until(r => r.Passes.Length == 1);
        bench.Until(r => r.Phase == RunPhase.Off);
        bench.Run.Skip(bench.Now);
        Assert.False(bench.Run.Undo(bench.Now));
        Assert.Equal((RunPhase.Off, 2), (bench.Run.Phase, bench.Run.Cylinder));
        bench.Run.Stop(bench.Now);
        Assert.Equal((RunPhase.Closing, 2), (bench.Run.Phase, bench.Run.RestoreFirst));
    }

    [Fact]
    public void A_run_stopped_before_anything_was_taken_is_over_at_once()
    {
        var bench = new Bench([1]);
        bench.Run.Stop(bench.Now);
        Assert.Equal((RunPhase.Done, 0), (bench.Run.Phase, bench.Run.Passes.Length));
    }

    [Fact]
    public void Typed_speeds_go_from_touch_to_touch_with_the_same_countdown()
    {
        var run = new GuidedRun(new() { Order = [1, 2], Listens = false, HoldSeconds = 2 }, 0);
        run.Tick(100);
        Assert.Equal(RunPhase.Waiting, run.Phase);
        run.CancelNow(100);
        Assert.Equal((RunPhase.Off, 102), (run.Phase, run.Until));
        run.Tick(101.9);
        Assert.Equal(RunPhase.Off, run.Phase);
        run.Tick(102.05);
        Assert.Equal(RunPhase.Restoring, run.Phase);
        run.Tick(300);
        Assert.Equal((RunPhase.Restoring, false), (run.Phase, run.IsOverdue));
        run.Restored(300);
        Assert.Equal((RunPhase.Waiting, 2), (run.Phase, run.Cylinder));
        run.CancelNow(310);
        run.Restored(311);
        run.Restored(312);
        Assert.Equal((RunPhase.Done, 2), (run.Phase, run.Passes.Length));
    }

    [Fact]
    public void A_new_idle_while_waiting_is_taken_for_the_base_after_a_while()
    {
        var bench = new Bench([1, 2], rest: 20);
        bench.Until(r => r.Passes.Length == 1);
        bench.For(8);
        bench.Idle = 690;
        bench.Until(r => r.Phase == RunPhase.Ready);
        Assert.Equal(690, bench.Run.BaseRpm, 5.0);
    }

    [Theory]
    [InlineData(1.9, 10)]
    [InlineData(5.1, 10)]
    [InlineData(double.NaN, 10)]
    [InlineData(3, 2)]
    [InlineData(3, 61)]
    public void A_plan_outside_its_bounds_is_refused(double hold, double rest) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => new GuidedRun(new() { Order = [1], Listens = true, HoldSeconds = hold, RestSeconds = rest }, 0));

    /// <summary>An engine of 750 rpm and a technician who does half a second later what is said; the speed follows with a time constant of 0.4 s and is heard 0.6 s late.</summary>
    private sealed class Bench(int[] order, double hold = 3, double rest = 5)
    {
        private readonly Queue<double> _heard = new();
        private double _speed = 750;
        private double _asked;
        private double? _offSince;
        private bool _off;

        public GuidedRun Run { get; } = new(new() { Order = [.. order], Listens = true, HoldSeconds = hold, RestSeconds = rest }, 0);

        public double Now { get; private set; }

        public double Idle { get; set; } = 750;

        public Func<int, double> Drop { get; init; } = _ => 60;

        public double? MadeUpAfter { get; init; }

        public double Wobble { get; set; }

        public bool Restores { get; set; } = true;

        public void For(double seconds, bool off = false)
        {
            for (var end = Now + seconds; Now < end;)
            {
                Next(off);
            }
        }

        public void Until(Func<GuidedRun, bool> reached, bool off = false)
        {
            for (var most = Now + 300; !reached(Run); Next(off))
            {
                Assert.True(Now < most, $"stands in {Run.Phase} at {Now:0.0} s");
            }
        }

        private void Next(bool forced)
        {
            Now += Step;
            var wanted = Run.Phase is RunPhase.Cancelling or RunPhase.Off || (Run.Phase == RunPhase.Restoring && !Restores) || forced;
            _asked = wanted == _off ? Now : _asked;
            if (wanted != _off && Now - _asked > 0.5)
            {
                (_off, _offSince) = (wanted, wanted ? Now : null);
            }

            var drop = _off && !(Now - _offSince > MadeUpAfter) ? Drop(Run.Cylinder ?? 0) : 0;
            _speed += (Idle - drop - _speed) * Step / 0.4;
            _heard.Enqueue(_speed + (Wobble * Math.Sin(2 * Math.PI * Now / 2)));
            if (_heard.Count > 6)
            {
                Run.Hear(new SpeedPoint(Now - 0.6, _heard.Dequeue(), 1), Now);
            }

            Run.Tick(Now);
        }
    }
}
