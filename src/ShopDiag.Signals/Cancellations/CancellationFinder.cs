using System.Collections.Immutable;
using ShopDiag.Signals.Speed;

namespace ShopDiag.Signals.Cancellations;

/// <summary>What is known of a balance run beside its trace.</summary>
public sealed record CancellationHints
{
    /// <summary>Number of cylinders; from eight on smaller drops are looked for.</summary>
    public required int Cylinders { get; init; }

    /// <summary>The cylinders in the order in which they were cancelled, a cylinder as often as it was cancelled; empty when nobody said.</summary>
    public ImmutableArray<int> Order { get; init; } = [];

    /// <summary>When each was announced as off; where given it decides and <see cref="Order"/> is not needed.</summary>
    public ImmutableArray<Announced> Times { get; init; } = [];
}

/// <summary>Finds the cancellations in a speed trace, whether it comes from sound or from a log, and says whose they are as far as that can be known.</summary>
public static class CancellationFinder
{
    /// <summary>Smaller drops than this (rpm) are not looked for on engines with fewer than eight cylinders.</summary>
    public const double LeastDrop = 12;

    /// <summary>The same from eight cylinders on, where each carries less.</summary>
    public const double LeastDropOfMany = 8;

    /// <summary>A step must stand this many times above the wander.</summary>
    private const double Sigmas = 2.8;

    /// <summary>A step filter sees this share of a drop at least.</summary>
    private const double SeenShare = 0.6;

    /// <summary>A cylinder that does a third of the others' work still counts as a cancellation when the steady parts are looked for.</summary>
    private const double OfLarge = 0.3;

    /// <summary>A trace shorter than this (seconds) cannot hold a cancellation with what comes before and after it.</summary>
    private const double ShortestSeconds = 4;

    /// <summary>Finds the cancellations. Never throws for what a trace holds; a trace without points has none.</summary>
    public static BalanceRun Find(SpeedTrace trace, CancellationHints hints)
    {
        ArgumentNullException.ThrowIfNull(trace);
        ArgumentNullException.ThrowIfNull(hints);
        if (trace.Points.Length < 4 || trace.Points[^1].Seconds - trace.Points[0].Seconds < ShortestSeconds)
        {
            return new() { Drops = [], Usable = false, Reasons = ["The recording is too short to hold a cancellation."], WanderRpm = 0 };
        }

        var even = new EvenTrace(trace);
        var steps = new Steps(even);
        var least = hints.Cylinders >= 8 ? LeastDropOfMany : LeastDrop;
        double Bound(double wander) => Math.Max(Math.Max(SeenShare * least, Sigmas * wander), 0.8 * trace.StepRpm);
        var wander = steps.WanderOutside(Pairing.Pairs(steps.Beyond(Math.Max(SeenShare * least, OfLarge * steps.Large))));
        var edges = steps.Beyond(Bound(wander));
        var meter = new DropMeter(even, wander, trace.StepRpm);
        var drops = new List<CancelledDrop>();
        var free = even.Start;
        foreach (var (fall, rise) in Pairing.Pairs(edges))
        {
            var drop = meter.Between(fall, rise, free);
            if (drop.Drop >= Bound(wander))
            {
                drops.Add(drop);
                free = drop.End + 0.5;
            }
        }

        return new Assignment(trace, even, meter, hints, least, wander).Assign(drops, edges);
    }
}
