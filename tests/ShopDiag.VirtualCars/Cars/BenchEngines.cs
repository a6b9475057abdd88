using System.Collections.Immutable;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.VirtualCars.Cars;

/// <summary>An engine of the bench with a short name for the tables.</summary>
/// <param name="Name">Short name.</param>
/// <param name="Engine">The engine.</param>
public sealed record BenchEngine(string Name, Engine Engine);

/// <summary>The engines that cars are drawn on: shipped profiles, with access minutes where a bank is covered.</summary>
public static class BenchEngines
{
    /// <summary>All of them.</summary>
    public static ImmutableArray<BenchEngine> All { get; } =
    [
        Of("I4-coil-on-plug", "i4-1342-coil-on-plug-port"),
        Of("I4-waste-spark", "i4-1342-waste-spark-port"),
        Of("I4-direct", "i4-1342-coil-on-plug-direct", s => Injectors(s, 1.2, 2.4)),
        Of("I6-coil-on-plug", "i6-153624-coil-on-plug-port"),
        Of("V6-lengthwise", "v6-60-odd-even", s => s with { AccessMinutes = ImmutableDictionary<int, double>.Empty }),
        Of("V6-transverse", "v6-60-odd-even", s => s with { AccessMinutes = ImmutableDictionary<int, double>.Empty.Add(2, 40) }),
        Of("V8-coil-near-plug", "v8-18436572-coil-near-plug"),
        Of("V8-distributor", "v8-18436572-distributor-port"),
        Of("I3-coil-on-plug", "i3-132-coil-on-plug-port"),
        Of("H4-coil-on-plug", "h4-1324-coil-on-plug-port", s => s with { AccessMinutes = ImmutableDictionary<int, double>.Empty.Add(1, 15).Add(2, 15) }),
    ];

    /// <summary>Fuel pressure by the maker, as the shop enters it with the engine; 8 % either way.</summary>
    private static EngineSpec Rail(EngineSpec spec, double kPa) => spec with
    {
        Limits = spec.Limits.SetItem("fuel-pressure-min-kpa", Math.Round(kPa * 0.92)).SetItem("fuel-pressure-max-kpa", Math.Round(kPa * 1.08)),
    };

    private static BenchEngine Of(string name, string profile, Func<EngineSpec, EngineSpec>? change = null)
    {
        var spec = Knowledge.Shipped.Profiles.First(p => p.Id == profile).Spec;
        var own = Rail(change is null ? spec : change(spec), spec.Injection == Injection.Direct ? 450 : 300 + (10 * (name.Length % 8)));
        // Bucket tappets with shims, as usual on inline, flat and cross-mounted engines with overhead cams; the others have hydraulic lifters (common practice).
        var lash = name is "V6-lengthwise" || name.StartsWith("V8", StringComparison.Ordinal) ? ValveLash.Hydraulic : ValveLash.Adjusted;
        return new BenchEngine(name, Engine.Create(own with { Lash = lash }).Value);
    }

    // The maker's figures of this engine: its injectors are of another kind than the general limits.
    private static EngineSpec Injectors(EngineSpec spec, double low, double high) => spec with
    {
        Limits = spec.Limits.SetItem("injector-min-ohm", low).SetItem("injector-max-ohm", high).SetItem("injector-spread-ohm", 0.4),
    };
}
