using System.Collections.Immutable;

namespace ShopDiag.VirtualCars.Cars.Physics;

/// <summary>How the engine runs: what the physics needs to know of it.</summary>
/// <param name="Name">The word of the trade, as in the concern: <c>idle</c>, <c>load</c>, <c>cold</c> ...</param>
/// <param name="Rpm">Crank revolutions a minute.</param>
/// <param name="MapKPa">Absolute pressure in the manifold.</param>
/// <param name="CoolantCelsius">Coolant temperature.</param>
/// <param name="CoilCelsius">Temperature of coils and connectors.</param>
/// <param name="Wet">Damp on boots and leads.</param>
internal sealed record Condition(string Name, double Rpm, double MapKPa, double CoolantCelsius, double CoilCelsius, bool Wet = false)
{
    public static readonly Condition Cold = new("cold", 1050, 45, 8, 10);
    public static readonly Condition Idle = new("idle", 750, 33, 90, 70);
    public static readonly Condition Speed = new("speed", 2500, 32, 92, 75);
    public static readonly Condition Load = new("load", 2300, 88, 95, 85);
    public static readonly Condition Rev = new("load", 4600, 80, 97, 90);
    public static readonly Condition Hot = new("hot", 750, 34, 101, 118);
    public static readonly Condition Damp = new("wet", 1100, 55, 60, 40, Wet: true);

    /// <summary>Every condition of a drive.</summary>
    public static readonly ImmutableArray<Condition> All = [Cold, Idle, Speed, Load, Rev, Hot, Damp];

    /// <summary>True once the computer corrects the mixture by the oxygen sensor.</summary>
    public bool ClosedLoop => CoolantCelsius > 50 && MapKPa < 70;

    /// <summary>The cold engine's share: 1 stone cold, 0 warm.</summary>
    public double Coldness => Math.Clamp((60 - CoolantCelsius) / 50, 0, 1);
}
