using ShopDiag.Signals.Speed;

namespace ShopDiag.Signals.Live;

/// <summary>What a live run is waiting for, or has just heard.</summary>
public enum WatchState
{
    /// <summary>Waiting for a speed that keeps still.</summary>
    Settling,

    /// <summary>The speed keeps still: a cylinder can be cancelled now.</summary>
    Steady,

    /// <summary>The speed has fallen and has not come back.</summary>
    Fallen,

    /// <summary>The speed has come back after a fall; the next settling begins.</summary>
    Recovered,
}

/// <summary>
/// Hears, from speeds as they come, that a cylinder went off and came back, so that a guided run can go on by itself. A trigger, not a measurement: the drops are measured from the whole
/// recording afterwards by <see cref="Cancellations.CancellationFinder"/>.
/// </summary>
public sealed class DropWatch
{
    /// <summary>The speed keeps still when the means of the last second and of the one before differ by less than this share of it: common practice, about 10 rpm at idle.</summary>
    public const double SteadyShare = 0.013;

    /// <summary>A fall is heard at this share of the speed, or at <see cref="LeastDrop"/> where that is more.</summary>
    public const double FallShare = 0.018;

    /// <summary>Smallest fall that is heard, rpm.</summary>
    public const double LeastDrop = 12;

    /// <summary>It has come back when this share of the fall is made up.</summary>
    public const double BackShare = 0.6;

    /// <summary>Points less clear than this are passed over. Lower than <see cref="SpeedTrace.Clear"/>: while the speed falls no point is quite clear, and waiting for one would cost a second.</summary>
    public const double LeastClear = 0.15;

    /// <summary>After a recovery the overshoot stands still for a moment at its top; nothing counts as steady before this many seconds.</summary>
    private const double OvershootSeconds = 2.5;

    private const double Second = 1;
    private const double ShortSeconds = 0.25;
    private readonly Queue<SpeedPoint> _points = new();
    private double _lowest;

    /// <summary>The state after the last point.</summary>
    public WatchState State { get; private set; } = WatchState.Settling;

    /// <summary>The speed (rpm) that falls are taken from: the mean of the last steady second; 0 before there is one.</summary>
    public double BaseRpm { get; private set; }

    /// <summary>When the last change of state was heard, seconds on the clock of the points.</summary>
    public double Since { get; private set; }

    /// <summary>Takes in the next point, later than those before, and says the state now. Points that are not clear are passed over.</summary>
    public WatchState Next(SpeedPoint point)
    {
        if (point.Confidence < LeastClear)
        {
            return State;
        }

        _points.Enqueue(point);
        while (_points.Peek().Seconds < point.Seconds - (2 * Second) - ShortSeconds)
        {
            _points.Dequeue();
        }

        var next = After(point.Seconds);
        if (next != State)
        {
            (State, Since) = (next, point.Seconds);
        }

        return State;
    }

    /// <summary>Forgets what it heard: for taking one cylinder again, or after a pause.</summary>
    public void Restart()
    {
        _points.Clear();
        (State, BaseRpm, _lowest) = (WatchState.Settling, 0, 0);
    }

    private WatchState After(double now)
    {
        var speed = Mean(now - ShortSeconds, now);
        switch (State)
        {
            case WatchState.Settling or WatchState.Recovered:
                return (State == WatchState.Settling || now - Since > OvershootSeconds) && IsSteady(now) ? WatchState.Steady : State;
            case WatchState.Steady:
                // Against what was a second ago as well: an overshoot that decays falls too, but slowly.
                if (Math.Min(BaseRpm, Mean(now - 1.75, now - 0.75)) - speed >= Math.Max(LeastDrop, FallShare * BaseRpm))
                {
                    _lowest = speed;
                    return WatchState.Fallen;
                }

                // The base follows slow wandering, but ends before a fall that has begun.
                BaseRpm += 0.1 * (Mean(now - (2 * Second), now - Second) - BaseRpm);
                return WatchState.Steady;
            case WatchState.Fallen:
                _lowest = Math.Min(_lowest, speed);
                return speed >= _lowest + (BackShare * (BaseRpm - _lowest)) && now - Since > 2 * ShortSeconds ? WatchState.Recovered : WatchState.Fallen;
            default:
                throw new InvalidOperationException($"Unknown state {State}.");
        }
    }

    private bool IsSteady(double now)
    {
        if (_points.Peek().Seconds > now - (1.8 * Second))
        {
            return false;
        }

        var (before, last) = (Mean(now - (2 * Second), now - Second), Mean(now - Second, now));
        if (Math.Abs(last - before) > SteadyShare * last)
        {
            return false;
        }

        BaseRpm = last;
        return true;
    }

    private double Mean(double from, double to)
    {
        var (sum, count) = (0.0, 0);
        foreach (var point in _points)
        {
            if (point.Seconds >= from && point.Seconds <= to)
            {
                (sum, count) = (sum + point.Rpm, count + 1);
            }
        }

        return count == 0 ? BaseRpm : sum / count;
    }
}
