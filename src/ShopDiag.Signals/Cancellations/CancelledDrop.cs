using System.Collections.Immutable;

namespace ShopDiag.Signals.Cancellations;

/// <summary>What a stretch of the trace shows.</summary>
public enum DropKind
{
    /// <summary>The speed fell and came back.</summary>
    Heard,

    /// <summary>A cylinder was announced as off and the speed, clear all the time, did not fall, or by next to nothing beside the others: the cylinder does no work, or it was not cancelled.</summary>
    NoDrop,

    /// <summary>A cylinder was announced as off, but the trace is not clear enough to say whether the speed fell. To be taken again.</summary>
    Unclear,

    /// <summary>The speed fell and came back although no cylinder was announced.</summary>
    Unannounced,

    /// <summary>The speed fell and did not come back before the recording, or the next fall, ended it.</summary>
    Incomplete,
}

/// <summary>One cancellation in a speed trace. Times in seconds since its start, speeds in revolutions a minute.</summary>
public sealed record CancelledDrop
{
    /// <summary>What it is.</summary>
    public required DropKind Kind { get; init; }

    /// <summary>When the speed began to fall, or when the cylinder was announced as off.</summary>
    public required double Start { get; init; }

    /// <summary>When it began to come back, or the end announced.</summary>
    public required double End { get; init; }

    /// <summary>Mean speed in the two seconds before, or as many as the recovery before it leaves.</summary>
    public required double BaseRpm { get; init; }

    /// <summary>Lowest settled speed without the cylinder: the lowest mean over one second.</summary>
    public required double CancelledRpm { get; init; }

    /// <summary>Standard error of the drop, rpm: what two means of one second differ by in the steady parts of the same trace, and not less than its resolution gives.</summary>
    public required double StandardError { get; init; }

    /// <summary>0 to 1: how clear the trace is there and how far the drop stands above its standard error.</summary>
    public required double Confidence { get; init; }

    /// <summary>The cylinder, where times were announced or the number of drops agrees with the announced order; otherwise null.</summary>
    public int? Cylinder { get; init; }

    /// <summary>Cylinders it may be, where the number of drops does not agree with the announced order; never guessed down to one.</summary>
    public ImmutableArray<int> CouldBe { get; init; } = [];

    /// <summary>Why this drop cannot be used as it is, in plain words; null when it can.</summary>
    public string? Problem { get; init; }

    /// <summary>How far the speed fell; below 0 where it rose.</summary>
    public double Drop => BaseRpm - CancelledRpm;
}

/// <summary>A cylinder that was announced as off between two times (seconds on the clock of the trace).</summary>
/// <param name="Cylinder">Its number.</param>
/// <param name="From">When the technician was asked to cancel it.</param>
/// <param name="To">When he was asked to restore it.</param>
public sealed record Announced(int Cylinder, double From, double To);

/// <summary>The cancellations of a balance run.</summary>
public sealed record BalanceRun
{
    /// <summary>In order of time.</summary>
    public required ImmutableArray<CancelledDrop> Drops { get; init; }

    /// <summary>True when every drop has its cylinder (where an order was announced) and none has a problem.</summary>
    public required bool Usable { get; init; }

    /// <summary>Why not, and what else is to be known, in plain words.</summary>
    public required ImmutableArray<string> Reasons { get; init; }

    /// <summary>What two means of one second differ by in the steady parts, rpm: drops of less than about three times this cannot be told from wandering.</summary>
    public required double WanderRpm { get; init; }
}
