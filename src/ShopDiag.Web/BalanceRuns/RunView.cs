using System.Collections.Immutable;
using ShopDiag.Signals.Guided;
using ShopDiag.Signals.Speed;

namespace ShopDiag.Web.BalanceRuns;

/// <summary>A guided run as the page shows it. Times in seconds on the run's own clock, which is also the recording's to within a block.</summary>
public sealed record RunView
{
    public required RunPhase Phase { get; init; }

    public required int? Cylinder { get; init; }

    /// <summary>Counts the phases: a cue is given once for each.</summary>
    public required int Turn { get; init; }

    /// <summary>Seconds until the phase ends by itself, when it was entered; null when it waits.</summary>
    public required double? Counts { get; init; }

    public required ImmutableArray<int> Left { get; init; }

    public required ImmutableArray<RunPass> Passes { get; init; }

    public required bool Overdue { get; init; }

    public required int? RestoreFirst { get; init; }

    public required bool Hunting { get; init; }

    /// <summary>The latest speed that was clear, rpm; null while none is.</summary>
    public required double? Rpm { get; init; }

    public required double BaseRpm { get; init; }

    /// <summary>The speed of the last half minute.</summary>
    public required ImmutableArray<SpeedPoint> Trace { get; init; }

    public required double LostSeconds { get; init; }

    public required double Seconds { get; init; }

    /// <summary>No sound has come for a while.</summary>
    public required bool Silent { get; init; }

    /// <summary>Why the run was ended early, in words for the technician; empty otherwise.</summary>
    public required string Problem { get; init; }

    /// <summary>The file is written to its end.</summary>
    public required bool Finished { get; init; }
}
