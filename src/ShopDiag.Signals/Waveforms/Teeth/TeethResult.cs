using System.Collections.Immutable;

namespace ShopDiag.Signals.Waveforms.Teeth;

/// <summary>The work of one cylinder as the crank's speed shows it.</summary>
public sealed record CylinderWork
{
    /// <summary>Its number; null where it cannot be told from its companion.</summary>
    public required int? Cylinder { get; init; }

    /// <summary>The cylinders it may be: one, or with its companion two.</summary>
    public required ImmutableArray<int> CouldBe { get; init; }

    /// <summary>Working cycles that were looked at.</summary>
    public required int Cycles { get; init; }

    /// <summary>Of these, in how many it did no work.</summary>
    public required int Misfires { get; init; }

    /// <summary>True when it misfires more often than chance explains.</summary>
    public required bool Misfiring { get; init; }

    /// <summary>Mean work, percent: 0 for a lost firing, 100 for the mean of the sound cylinders. Null where no firing was lost: then nothing gives the scale.</summary>
    public required double? WorkPercent { get; init; }
}

/// <summary>The speed at an angle of the mean working cycle.</summary>
/// <param name="Degrees">After top dead centre of the first cylinder in the result, 0 to below 720.</param>
/// <param name="Rpm">Revolutions a minute, mean of all cycles.</param>
public sealed record CyclePoint(double Degrees, double Rpm);

/// <summary>What tooth times show, or why they show nothing.</summary>
public sealed record TeethResult
{
    /// <summary>Why the times cannot be used, in plain words; null when they can. Then the rest is empty.</summary>
    public string? Refused { get; init; }

    /// <summary>In firing order, the first of the order first.</summary>
    public ImmutableArray<CylinderWork> Cylinders { get; init; } = [];

    /// <summary>Working cycles used.</summary>
    public int Cycles { get; init; }

    /// <summary>Mean speed, revolutions a minute.</summary>
    public double Rpm { get; init; }

    /// <summary>The speed within the mean cycle, tooth errors taken out where they were learnt.</summary>
    public ImmutableArray<CyclePoint> Speed { get; init; } = [];

    /// <summary>What else is to be known, in plain words.</summary>
    public ImmutableArray<string> Remarks { get; init; } = [];
}
