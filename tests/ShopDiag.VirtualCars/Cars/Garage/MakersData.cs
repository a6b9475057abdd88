using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.VirtualCars.Cars.Garage;

/// <summary>
/// The maker's figures for an engine: its limits as the shop knows them. The cars are built inside these, as real ones are built inside their maker's.
/// </summary>
internal sealed class MakersData(Engine engine)
{
    /// <summary>The engine's own limit, the shop's default, or what is given where there is no such limit.</summary>
    public double Limit(string id, double otherwise) =>
        engine.Spec.Limits.TryGetValue(id, out var own) ? own
        : Knowledge.Shipped.Limits.TryGetValue(id, out var limit) ? limit.Default
        : otherwise;
}
