using System.Collections.Immutable;

namespace ShopDiag.Diagnosis.Engines;

/// <summary>The description an <see cref="Engine"/> is made from, unchecked until <see cref="Engine.Create"/>.</summary>
public sealed record EngineSpec
{
    /// <summary>Layout id: <c>I4</c>, <c>V6</c>, <c>H4</c>, <c>W12</c> ...</summary>
    public required string Layout { get; init; }

    /// <summary>The banks from 1 in order, each listing its cylinders front to rear. May be left out on the wire only, where the usual numbering is taken and said.</summary>
    public ImmutableArray<ImmutableArray<int>> Banks { get; init; } = [];

    /// <summary>Every cylinder once, in the order they fire.</summary>
    public required ImmutableArray<int> FiringOrder { get; init; }

    /// <summary>Degrees of crank from each firing to the next, in firing order, adding up to 720; empty for even fire.</summary>
    public ImmutableArray<double> FiringIntervals { get; init; } = [];

    /// <summary>How the spark is made.</summary>
    public required Ignition Ignition { get; init; }

    /// <summary>Where the fuel goes in.</summary>
    public required Injection Injection { get; init; }

    /// <summary>How the play of the valves is kept.</summary>
    public ValveLash Lash { get; init; }

    /// <summary>Extra minutes to get at the plugs and coils of a bank, by bank number; a bank that is missing costs nothing extra.</summary>
    public ImmutableDictionary<int, double> AccessMinutes { get; init; } = ImmutableDictionary<int, double>.Empty;

    /// <summary>Limits of this engine that differ from the defaults, by limit id (see <c>Limits/limits.json</c>).</summary>
    public ImmutableDictionary<string, double> Limits { get; init; } = ImmutableDictionary<string, double>.Empty;

    /// <summary>True for a hybrid: adds the high-voltage and self-start cautions.</summary>
    public bool Hybrid { get; init; }
}
