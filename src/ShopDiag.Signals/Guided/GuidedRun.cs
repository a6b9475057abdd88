using System.Collections.Immutable;
using ShopDiag.Signals.Live;
using ShopDiag.Signals.Speed;

namespace ShopDiag.Signals.Guided;

/// <summary>
/// Leads through a balance run: says whose turn it is, when to cancel and when to restore, and goes on by itself when it hears the fall and the recovery. Time is handed in
/// with every call and never runs backwards; one instance is for one thread. A guide, not a measurement: what was announced when goes to
/// <see cref="Cancellations.CancellationFinder"/> with the whole recording afterwards.
/// </summary>
public sealed class GuidedRun
{
    /// <summary>From "get ready" to "cancel now": time to put a hand on the connector.</summary>
    public const double ReadySeconds = 3;

    /// <summary>What a hand may take from "cancel now" until the cylinder is off; with the hold it bounds how long a cylinder can be off when no fall is heard.</summary>
    public const double ReachSeconds = 2;

    /// <summary>From "restore now" until it is taken as done where no recovery can be heard.</summary>
    public const double ReconnectSeconds = 3;

    /// <summary>A speed that has not come back after this long is said to be late.</summary>
    public const double OverdueSeconds = 10;

    /// <summary>What is recorded after the last recovery: the finder compares means over a second on both sides.</summary>
    public const double ClosingSeconds = 3;

    /// <summary>By about this much the cylinder was off before its fall was heard; docs/listening.md has the figures.</summary>
    private const double HeardLate = 0.7;

    /// <summary>A fall while waiting, to a speed that keeps still for this long, is the idle wandering and no cylinder.</summary>
    private const double NewIdleSeconds = 3;

    /// <summary>An idle wanders by two or three per cent (measured on synthetic engines); a fall of this share before the word is a hand that was quicker.</summary>
    private const double QuickHandShare = 0.045;

    /// <summary>A speed that keeps still within this share below the base is back, although the watch, which remembers how deep it was, still waits.</summary>
    private const double BackShare = 0.025;

    /// <summary>But not sooner than this after "restore now".</summary>
    private const double BackSeconds = 5;

    /// <summary>Highest and lowest speed of the last two seconds may lie this share of it apart: a hunting idle crosses its mean, and looks steady to the watch for a moment.</summary>
    private const double StillShare = 0.04;

    private const double StillSeconds = 2;

    private readonly Queue<SpeedPoint> _lately = new();
    private readonly RunPlan _plan;
    private readonly List<int> _left;
    private readonly List<RunPass> _passes = [];
    private readonly DropWatch _watch = new();
    private double _rested;
    private double _from;
    private double _fallenAt;
    private bool _fell;
    private bool _back;

    /// <summary>Begins to wait for a steady speed. Throws for a plan outside its bounds.</summary>
    public GuidedRun(RunPlan plan, double now)
    {
        ArgumentNullException.ThrowIfNull(plan);
        ArgumentOutOfRangeException.ThrowIfZero(plan.Order.Length, nameof(plan));
        Within(plan.HoldSeconds, RunPlan.ShortestHold, RunPlan.LongestHold);
        Within(plan.RestSeconds, RunPlan.ShortestRest, RunPlan.LongestRest);
        (_plan, _left, Since, _rested) = (plan, [.. plan.Order], now, now);
    }

    /// <summary>Where it stands.</summary>
    public RunPhase Phase { get; private set; } = RunPhase.Waiting;

    /// <summary>When the phase began.</summary>
    public double Since { get; private set; }

    /// <summary>When the phase ends by itself; null when it waits for the engine or for a hand.</summary>
    public double? Until { get; private set; }

    /// <summary>Whose turn it is; null when none is left.</summary>
    public int? Cylinder => _left.Count == 0 ? null : _left[0];

    /// <summary>The turns to come, this one first.</summary>
    public ImmutableArray<int> Left => [.. _left];

    /// <summary>The turns taken, in order.</summary>
    public ImmutableArray<RunPass> Passes => [.. _passes];

    /// <summary>The speed should have come back long ago: the cylinder may still be off.</summary>
    public bool IsOverdue { get; private set; }

    /// <summary>The cylinder that was off when the run was paused or stopped: to be restored first.</summary>
    public int? RestoreFirst { get; private set; }

    /// <summary>What the watch hears.</summary>
    public WatchState Heard => _watch.State;

    /// <summary>The steady speed that falls are taken from, rpm; 0 before there is one.</summary>
    public double BaseRpm => _watch.BaseRpm;

    /// <summary>True while the speed hunts: the next turn waits for it.</summary>
    public bool IsHunting => _lately.Count > 0 && _lately.Max(p => p.Rpm) - _lately.Min(p => p.Rpm) > StillShare * _lately.Average(p => p.Rpm);

    private bool IsNearBase => _lately.Count > 0 && !IsHunting && _lately.Average(p => p.Rpm) >= (1 - BackShare) * _watch.BaseRpm;

    /// <summary>True from "cancel now" until the speed is back.</summary>
    private bool InTurn => Phase is RunPhase.Cancelling or RunPhase.Off or RunPhase.Restoring;

    /// <summary>Takes in the next point of the live speed.</summary>
    public void Hear(SpeedPoint point, double now)
    {
        if (!_plan.Listens || Phase is RunPhase.Paused or RunPhase.Done)
        {
            return;
        }

        Remember(point);
        var before = _watch.State;
        if (_watch.Next(point) != before)
        {
            Changed(now);
        }

        if (Phase == RunPhase.Ready && _watch.State == WatchState.Fallen && point.Confidence >= DropWatch.LeastClear && point.Rpm < (1 - QuickHandShare) * _watch.BaseRpm)
        {
            // A hand that was quicker than the word: the turn began when the speed began to fall.
            Begin(_fallenAt - HeardLate);
            Fallen(now);
        }
    }

    /// <summary>Lets time pass. Call it several times a second.</summary>
    public void Tick(double now)
    {
        switch (Phase)
        {
            case RunPhase.Waiting when _plan.Listens:
                Wait(now);
                break;
            case RunPhase.Ready when now >= Until:
                if (_watch.State == WatchState.Fallen)
                {
                    Go(RunPhase.Waiting, now, null);
                }
                else
                {
                    Begin(now);
                }

                break;
            case RunPhase.Cancelling when now >= Until:
            case RunPhase.Off when now >= Until:
                Go(RunPhase.Restoring, now, null);
                break;
            case RunPhase.Restoring when _plan.Listens && now >= Since + (!_fell || _back ? ReconnectSeconds : IsNearBase ? BackSeconds : double.MaxValue):
                Finish(now);
                break;
            case RunPhase.Restoring:
                IsOverdue = _plan.Listens && now >= Since + OverdueSeconds;
                break;
            case RunPhase.Closing when now >= Until:
                Go(RunPhase.Done, now, null);
                break;
            default:
                break;
        }
    }

    /// <summary>Cancels now, without waiting for the speed to settle. Does nothing in a turn.</summary>
    public void CancelNow(double now)
    {
        if (Phase is RunPhase.Waiting or RunPhase.Ready)
        {
            Begin(now);
        }
    }

    /// <summary>The cylinder is back, says the technician: ends the turn whatever was heard. Without listening it is the only end.</summary>
    public void Restored(double now)
    {
        switch (Phase)
        {
            case RunPhase.Restoring:
                _watch.Restart();
                Finish(now);
                break;
            case RunPhase.Off or RunPhase.Cancelling:
                Go(RunPhase.Restoring, now, null);
                break;
            default:
                break;
        }
    }

    /// <summary>Holds the run. A turn under way is broken off: it does not count and is taken again.</summary>
    public void Pause(double now)
    {
        if (Phase is not (RunPhase.Paused or RunPhase.Done or RunPhase.Closing))
        {
            RestoreFirst = InTurn ? Cylinder : null;
            BreakOff(now);
            Go(RunPhase.Paused, now, null);
        }
    }

    /// <summary>Goes on after a pause, from a steady speed.</summary>
    public void Resume(double now)
    {
        if (Phase == RunPhase.Paused)
        {
            RestoreFirst = null;
            WaitFor(now);
        }
    }

    /// <summary>Takes a cylinder again, next: its last turn that counts is taken back. False when it has none, the run is over, or a cylinder is off: that one comes first.</summary>
    public bool Again(int cylinder, double now)
    {
        var last = _passes.FindLastIndex(p => p.Cylinder == cylinder && !p.TakenBack);
        if (last < 0 || Phase == RunPhase.Done || InTurn)
        {
            return false;
        }

        _passes[last] = _passes[last] with { TakenBack = true };
        _left.Insert(0, cylinder);
        if (Phase != RunPhase.Paused)
        {
            WaitFor(now);
        }

        return true;
    }

    /// <summary>Takes back the last turn that counts, which is then taken again.</summary>
    public bool Undo(double now) => _passes.FindLast(p => !p.TakenBack) is { } last && Again(last.Cylinder, now);

    /// <summary>Leaves the present cylinder out. Nothing is noted of it. Does nothing while it is off: it has to be restored first.</summary>
    public void Skip(double now)
    {
        if (_left.Count > 0 && Phase != RunPhase.Done && !InTurn)
        {
            _left.RemoveAt(0);
            Next(now);
        }
    }

    /// <summary>Ends the run with what was taken. Throws nothing away.</summary>
    public void Stop(double now)
    {
        if (Phase != RunPhase.Done)
        {
            RestoreFirst = InTurn ? Cylinder : RestoreFirst;
            BreakOff(now);
            _left.Clear();
            Next(now);
        }
    }

    private static void Within(double value, double least, double most)
    {
        if (!(value >= least && value <= most))
        {
            throw new ArgumentOutOfRangeException(nameof(value), value, FormattableString.Invariant($"From {least} to {most} seconds."));
        }
    }

    private void Changed(double now)
    {
        _fallenAt = _watch.State == WatchState.Fallen ? now : _fallenAt;
        switch (Phase, _watch.State)
        {
            case (RunPhase.Cancelling, WatchState.Fallen):
                Fallen(now);
                break;
            case (RunPhase.Off, WatchState.Recovered):
                // Restored early, or the idle control made it up: there will be no recovery to be heard.
                _back = true;
                break;
            case (RunPhase.Restoring, WatchState.Recovered):
                Finish(now);
                break;
            default:
                break;
        }
    }

    private void Remember(SpeedPoint point)
    {
        if (point.Confidence >= DropWatch.LeastClear)
        {
            _lately.Enqueue(point);
        }

        while (_lately.Count > 0 && _lately.Peek().Seconds < point.Seconds - StillSeconds)
        {
            _lately.Dequeue();
        }
    }

    private void Wait(double now)
    {
        if (_watch.State == WatchState.Steady && now >= _rested && !IsHunting)
        {
            Go(RunPhase.Ready, now, now + ReadySeconds);
        }
        else if (_watch.State == WatchState.Fallen && now >= _fallenAt + NewIdleSeconds && !IsHunting)
        {
            _watch.Restart();
        }
    }

    private void Begin(double from)
    {
        (_from, _fell, _back) = (from, false, false);
        Go(_plan.Listens ? RunPhase.Cancelling : RunPhase.Off, from, from + _plan.HoldSeconds + (_plan.Listens ? ReachSeconds : 0));
    }

    private void Fallen(double now)
    {
        _fell = true;
        Go(RunPhase.Off, now, Math.Min(Until!.Value, now - HeardLate + _plan.HoldSeconds));
    }

    private void Finish(double now)
    {
        _passes.Add(new(Cylinder!.Value, _from, Since, _fell, TakenBack: false));
        _left.RemoveAt(0);
        Next(now);
    }

    private void BreakOff(double now)
    {
        if (InTurn)
        {
            _passes.Add(new(Cylinder!.Value, _from, Phase == RunPhase.Restoring ? Since : now, _fell, TakenBack: true));
            _watch.Restart();
        }
    }

    private void Next(double now)
    {
        if (_left.Count > 0)
        {
            _rested = now + _plan.RestSeconds;
            Go(RunPhase.Waiting, now, null);
        }
        else if (_plan.Listens && _passes.Exists(p => !p.TakenBack))
        {
            Go(RunPhase.Closing, now, now + ClosingSeconds);
        }
        else
        {
            Go(RunPhase.Done, now, null);
        }
    }

    private void WaitFor(double now)
    {
        _watch.Restart();
        _rested = now + _plan.RestSeconds;
        Go(RunPhase.Waiting, now, null);
    }

    private void Go(RunPhase phase, double now, double? until) => (Phase, Since, Until, IsOverdue) = (phase, now, until, false);
}
