using System.Collections.Immutable;

namespace ShopDiag.Signals.Waveforms.Cranking;

/// <summary>What the trace of a cranking shows.</summary>
public enum CrankingSignal
{
    /// <summary>The starter's current, in any unit and with any offset; it rises where the starter works harder.</summary>
    Current,

    /// <summary>The battery's voltage, which falls where the starter works harder.</summary>
    BatteryVoltage,
}

/// <summary>A pulse that tells which cylinder is which: once a working cycle, at a known angle of one cylinder.</summary>
/// <param name="Channel">Its channel in the waveform, from 0 on.</param>
/// <param name="Cylinder">The cylinder whose ignition (or injection) it shows.</param>
/// <param name="DegreesBefore">How many degrees of crank before top dead centre of that cylinder's compression the pulse begins, -360 to 360. About 5 for ignition while cranking (the
/// default; common practice); half the distance between two firings may be wrong. An injector's pulse may come anywhere: it needs the maker's figure.</param>
public sealed record CrankingSync(int Channel, int Cylinder, double DegreesBefore = 5);

/// <summary>What must be known to read a cranking.</summary>
public sealed record CrankingRequest
{
    /// <summary>Fewest cylinders that can be compared.</summary>
    public const int FewestCylinders = 2;

    /// <summary>Most cylinders.</summary>
    public const int MostCylinders = 12;

    /// <summary>The channel of the current or voltage, from 0 on.</summary>
    public required int Channel { get; init; }

    /// <summary>What that channel is.</summary>
    public CrankingSignal Signal { get; init; }

    /// <summary>2 to 12, evenly firing, four-stroke.</summary>
    public required int Cylinders { get; init; }

    /// <summary>The firing order, each cylinder once; empty where nobody knows it: then nothing is assigned.</summary>
    public ImmutableArray<int> FiringOrder { get; init; } = [];

    /// <summary>The pulse that tells the cylinders apart; null without one.</summary>
    public CrankingSync? Sync { get; init; }
}
