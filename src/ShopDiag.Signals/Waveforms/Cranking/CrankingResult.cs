using System.Collections.Immutable;

namespace ShopDiag.Signals.Waveforms.Cranking;

/// <summary>The relative compression of one cylinder.</summary>
/// <param name="Position">A for the first hump that was used, B for the next in firing order, and so on.</param>
/// <param name="Cylinder">Its number; null where nothing tells which cylinder it is.</param>
/// <param name="Percent">Peak gauge pressure while cranking, in percent of the level of the sound ones: the median of the better half. Not rounded; decimals mean nothing.</param>
/// <param name="StandardError">In percent points: from how the working cycles differ. It does not hold what the model gets wrong.</param>
public sealed record CylinderCompression(char Position, int? Cylinder, double Percent, double StandardError);

/// <summary>Top dead centre of a compression, for drawing.</summary>
/// <param name="Seconds">On the waveform's own clock.</param>
/// <param name="Position">As in <see cref="CylinderCompression.Position"/>.</param>
public sealed record CompressionMark(double Seconds, char Position);

/// <summary>What a cranking shows, or why it shows nothing. It only compares; the bench test judges.</summary>
public sealed record CrankingResult
{
    /// <summary>Always to be said: humps are compared with one another.</summary>
    public const string OnlyCompares = "This only compares the cylinders with one another: where all are low alike, it does not show. A gauge tells.";

    /// <summary>Why the trace cannot be used, in plain words; null when it can. Then the rest is empty.</summary>
    public string? Refused { get; init; }

    /// <summary>In firing order, the first hump first; once each.</summary>
    public ImmutableArray<CylinderCompression> Cylinders { get; init; } = [];

    /// <summary>True when each has its cylinder; else they are in firing order, the start unknown.</summary>
    public bool Assigned { get; init; }

    /// <summary>Full working cycles that were used.</summary>
    public int Cycles { get; init; }

    /// <summary>Mean cranking speed, revolutions a minute.</summary>
    public double Rpm { get; init; }

    /// <summary>How much of the trace's variance about a smooth base the compressions explain, 0 to 1.</summary>
    public double R2 { get; init; }

    /// <summary>True where so little is explained that the percentages must not be taken without a second look; a remark says why.</summary>
    public bool Doubtful { get; init; }

    /// <summary>The stretch that was used, seconds on the waveform's own clock.</summary>
    public (double From, double To) Used { get; init; }

    /// <summary>Where the humps' top dead centres lie.</summary>
    public ImmutableArray<CompressionMark> Marks { get; init; } = [];

    /// <summary>What else is to be known, in plain words; <see cref="OnlyCompares"/> is always among them.</summary>
    public ImmutableArray<string> Remarks { get; init; } = [OnlyCompares];
}
