using System.Collections.Immutable;

namespace ShopDiag.Signals.Guided;

/// <summary>How a guided balance run goes. Times in seconds.</summary>
public sealed record RunPlan
{
    /// <summary>Shortest time a cylinder is held off: the speed must settle for a second to be measured.</summary>
    public const double ShortestHold = 2;

    /// <summary>Longest time a cylinder is held off: unburnt fuel overheats the catalyst. Common practice; the maker's figure goes before it.</summary>
    public const double LongestHold = 5;

    /// <summary>Shortest rest between two cylinders.</summary>
    public const double ShortestRest = 3;

    /// <summary>Longest rest between two cylinders.</summary>
    public const double LongestRest = 60;

    /// <summary>The cylinders in the order in which they are cancelled, each as often as it is to be cancelled; at least one.</summary>
    public required ImmutableArray<int> Order { get; init; }

    /// <summary>How long a cylinder is held off, <see cref="ShortestHold"/> to <see cref="LongestHold"/>.</summary>
    public double HoldSeconds { get; init; } = 3;

    /// <summary>Least time from one cylinder's return to the next one's turn, <see cref="ShortestRest"/> to <see cref="LongestRest"/>: the catalyst cools and the speed settles.</summary>
    public double RestSeconds { get; init; } = 10;

    /// <summary>True when the speed is heard, so that the run goes on by itself; false when speeds are typed and each step is touched.</summary>
    public required bool Listens { get; init; }
}

/// <summary>Where a guided balance run stands.</summary>
public enum RunPhase
{
    /// <summary>Everything is connected; the speed is to settle before the next cylinder.</summary>
    Waiting,

    /// <summary>The speed keeps still; the next cylinder's turn comes in a moment.</summary>
    Ready,

    /// <summary>"Cancel now" was said; no fall was heard yet.</summary>
    Cancelling,

    /// <summary>The cylinder is off.</summary>
    Off,

    /// <summary>"Restore now" was said; the speed is to come back.</summary>
    Restoring,

    /// <summary>Held by the technician, or because no sound comes.</summary>
    Paused,

    /// <summary>All were taken; the recording goes on for a moment, so that the last recovery is whole.</summary>
    Closing,

    /// <summary>Over.</summary>
    Done,
}

/// <summary>One cylinder's turn. Times on the clock that was handed in.</summary>
/// <param name="Cylinder">Its number.</param>
/// <param name="From">When "cancel now" was said.</param>
/// <param name="To">When "restore now" was said.</param>
/// <param name="DropSeen">True when the fall of the speed was heard while it lasted. The measurement afterwards decides, not this.</param>
/// <param name="TakenBack">True when it does not count: it is taken again, or was broken off.</param>
public sealed record RunPass(int Cylinder, double From, double To, bool DropSeen, bool TakenBack);
