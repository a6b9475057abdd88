using System.Collections.Immutable;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.Diagnosis.Workups;

/// <summary>All the readings taken for one concern on one engine: what the reasoning works from.</summary>
public sealed record Workup
{
    /// <summary>The caller's id, echoed in the assessment.</summary>
    public string Id { get; init; } = "";

    /// <summary>The engine.</summary>
    public required Engine Engine { get; init; }

    /// <summary>What the car came in with.</summary>
    public Concern Concern { get; init; } = new();

    /// <summary>What the shop owns and what its time costs.</summary>
    public ShopSetup Shop { get; init; } = new();

    /// <summary>The readings in order of entry. The order never changes an answer; superseded ones are passed over.</summary>
    public ImmutableArray<Reading> Readings { get; init; } = [];

    /// <summary>Tests that cannot be taken on this car, wholly or at a place. They are no evidence; no step and no proof is planned through them.</summary>
    public ImmutableArray<Obstacle> Obstacles { get; init; } = [];

    /// <summary>
    /// What was repaired though it was not proven: readings after the repair that still show trouble make it unlikely to be the cause again. What was proven is
    /// taken as repaired once readings after the repair are there.
    /// </summary>
    public ImmutableArray<ProvenCause> TriedRepairs { get; init; } = [];

    /// <summary>What was done on the earlier orders of which this one is a comeback, the newest first; empty when it is none.</summary>
    public ImmutableArray<EarlierRepair> EarlierRepairs { get; init; } = [];

    /// <summary>Remarks made while the workup was read (a field that is not known, banks that were assumed); passed on as warnings.</summary>
    public ImmutableArray<string> Remarks { get; init; } = [];

    /// <summary>True where the test fits the engine, the shop owns its tools, and nothing is known to keep it from being taken on this car at all.</summary>
    public bool CanTake(BenchTest test) => CanTake(test, Place.Engine);

    /// <summary>The same at a place: also false where it is known that it cannot be taken just there.</summary>
    public bool CanTake(BenchTest test, Place at)
    {
        ArgumentNullException.ThrowIfNull(test);
        return test.Fits(Engine) && test.Tools.All(Shop.Owns) && !IsBarred(test, at);
    }

    /// <summary>True where it is known that the test cannot be taken at a place; at the engine, nowhere on this car. Its tools are not asked about.</summary>
    public bool IsBarred(BenchTest test, Place at) => Obstacles.Any(o => o.Blocks(test, at));
}

/// <summary>The warning lamp as the customer or technician saw it.</summary>
public enum Lamp
{
    /// <summary>Not said.</summary>
    Unknown,

    /// <summary>Dark.</summary>
    Off,

    /// <summary>Lit steadily.</summary>
    Steady,

    /// <summary>Flashing: a misfire that can damage the catalyst (13 CCR 1968.2(e)(3)).</summary>
    Flashing,
}

/// <summary>What the car came in with, apart from the customer's own words, which the reasoning never reads.</summary>
public sealed record Concern
{
    /// <summary>Trouble codes, upper case.</summary>
    public ImmutableArray<string> Codes { get; init; } = [];

    /// <summary>The warning lamp.</summary>
    public Lamp Lamp { get; init; }

    /// <summary>Conditions under which it happens: <c>idle</c>, <c>load</c>, <c>cold</c>, <c>hot</c>, <c>wet</c>, <c>always</c>, <c>after-work</c>.</summary>
    public ImmutableArray<string> When { get; init; } = [];
}

/// <summary>How a least compression given for sea level is carried to a height above it. The two come out a few percent apart, so a finding names the one used.</summary>
public enum AltitudeRule
{
    /// <summary><c>pressure-ratio</c>: with the pressure of the standard atmosphere, as a gauge reading scales when the air is compressed the same way.</summary>
    PressureRatio,

    /// <summary><c>density-ratio</c>: with its density, as the printed correction factors do.</summary>
    DensityRatio,
}

/// <summary>What the shop owns and what its time costs.</summary>
public sealed record ShopSetup
{
    /// <summary>Ids of the tools at hand; <c>*</c> means all.</summary>
    public ImmutableArray<string> Tools { get; init; } = ["*"];

    /// <summary>Labour rate an hour in the shop's currency, if said.</summary>
    public double? LabourPerHour { get; init; }

    /// <summary>Height above sea level in metres; 0 unless said.</summary>
    public double AltitudeMetres { get; init; }

    /// <summary>
    /// Prior weights by cause id that take the place of the shipped ones, in their scale (see <see cref="Causes.Cause.Weight"/>), each above 0; a cause that is missing keeps its
    /// shipped weight. Null: all as shipped. Made from the shop's own cases by <see cref="Learning.PriorLearning"/>.
    /// </summary>
    public ImmutableDictionary<string, double>? PriorWeights { get; init; }

    /// <summary>How the least compression is carried to that height; an engine's own limit goes before it.</summary>
    public AltitudeRule AltitudeRule { get; init; }

    /// <summary>True when the shop owns the tool, or when none is asked for.</summary>
    public bool Owns(string tool) => Tools.Contains("*") || Tools.Contains(tool);
}
