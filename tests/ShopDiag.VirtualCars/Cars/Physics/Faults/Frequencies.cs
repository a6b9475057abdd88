using System.Collections.Frozen;

namespace ShopDiag.VirtualCars.Cars.Physics.Faults;

/// <summary>
/// How often each fault is drawn, as weights. Written down for this bench from the trade's order alone (ignition first, then injectors and air leaks,
/// then the mechanical ones; no published split exists) and not taken from the knowledge that is measured. A draw that makes no misfire is drawn again.
/// </summary>
internal static class Frequencies
{
    /// <summary>Weight of a sound engine that shakes for another reason.</summary>
    public const double NotAMisfire = 4;

    private static readonly FrozenDictionary<string, double> Weights = new Dictionary<string, double>
    {
        ["coil-failed"] = 20,
        ["shared-coil-failed"] = 15,
        ["plug-worn"] = 14,
        ["distributor-cap-rotor"] = 12,
        ["plug-wire-open"] = 10,
        ["injector-clogged"] = 8,
        ["plug-fouled"] = 6,
        ["intake-leak-common"] = 6,
        ["coil-boot-leak"] = 5,
        ["intake-leak-runner"] = 4.5,
        ["fuel-pressure-low"] = 4,
        ["exhaust-valve-leak"] = 3.5,
        ["airflow-signal-wrong"] = 3,
        ["injector-leaking"] = 2.5,
        ["injector-winding-failed"] = 2.5,
        ["plug-cracked"] = 2.5,
        ["oil-in-plug-well"] = 1.5,
        ["connections-crossed"] = 1,
        ["coil-feed-lost"] = 2,
        ["coil-control-lost"] = 2,
        ["injector-control-lost"] = 2,
        ["head-gasket-coolant"] = 2,
        ["rings-worn"] = 2,
        ["valve-lift-lost"] = 2,
        ["valve-deposits"] = 1.5,
        ["egr-open"] = 1.5,
        ["exhaust-restricted"] = 1.5,
        ["intake-valve-leak"] = 1.5,
        ["cam-timing-off"] = 1.3,
        ["head-gasket-neighbours"] = 1.2,
        ["ground-or-feed-poor"] = 1,
        ["crank-signal-faulty"] = 1,
        ["fuel-contaminated"] = 1,
        ["piston-damaged"] = 0.9,
        ["valve-clearance-tight"] = 0.8,
        ["valve-spring-weak"] = 0.7,
        ["control-module-driver"] = 0.5,
    }.ToFrozenDictionary(StringComparer.Ordinal);

    /// <summary>The weight of a cause.</summary>
    public static double Of(string cause) => Weights[cause];
}
