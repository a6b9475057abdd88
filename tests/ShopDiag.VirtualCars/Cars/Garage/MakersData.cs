using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.VirtualCars.Cars.Garage;

/// <summary>
/// The maker's figures for an engine: its limits as the shop knows them. The cars are built inside these, as real ones are built inside their maker's.
/// This is the one place that knows the limits' ids; what stands beside an id holds where there is no such limit.
/// </summary>
internal sealed class MakersData(Engine engine)
{
    /// <summary>An injector's winding at 20 C, ohm (GM, Buick 2004 Century).</summary>
    public (double Min, double Max) InjectorOhm => Range("injector-min-ohm", 11, "injector-max-ohm", 14);

    /// <summary>A coil's primary at 20 C, ohm; common practice.</summary>
    public (double Min, double Max) PrimaryOhm => Range("coil-min-ohm", 0.3, "coil-max-ohm", 1.2);

    /// <summary>A coil's secondary at 20 C, ohm; common practice.</summary>
    public (double Min, double Max) SecondaryOhm => Range("coil-secondary-min-ohm", 5000, "coil-secondary-max-ohm", 15000);

    /// <summary>Rail pressure, kilopascal; common practice.</summary>
    public (double Min, double Max) RailKPa => Range("fuel-pressure-min-kpa", 330, "fuel-pressure-max-kpa", 430);

    /// <summary>Intake valve clearance, cold, millimetres; common practice.</summary>
    public (double Min, double Max) IntakeClearanceMm => Range("intake-clearance-min-mm", 0.15, "intake-clearance-max-mm", 0.25);

    /// <summary>Exhaust valve clearance, cold, millimetres; common practice.</summary>
    public (double Min, double Max) ExhaustClearanceMm => Range("exhaust-clearance-min-mm", 0.22, "exhaust-clearance-max-mm", 0.34);

    /// <summary>Greatest pressure before the catalyst at idle, kilopascal; common practice.</summary>
    public double BackpressureIdleKPa => Limit("backpressure-idle-kpa", 8.6);

    /// <summary>Greatest pressure before the catalyst at 2500 rpm, kilopascal; common practice.</summary>
    public double BackpressureFastKPa => Limit("backpressure-2500-kpa", 20);

    /// <summary>Widest plug gap, millimetres; common practice.</summary>
    public double PlugGapMm => Limit("plug-gap-max-mm", 1.5);

    private (double Min, double Max) Range(string min, double otherwiseMin, string max, double otherwiseMax) =>
        (Limit(min, otherwiseMin), Limit(max, otherwiseMax));

    private double Limit(string id, double otherwise) =>
        engine.Spec.Limits.TryGetValue(id, out var own) ? own
        : Knowledge.Shipped.Limits.TryGetValue(id, out var limit) ? limit.Default
        : otherwise;
}
