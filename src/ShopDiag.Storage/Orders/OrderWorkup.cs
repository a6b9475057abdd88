using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Storage.Orders;

/// <summary>Makes the reasoning's workup from an order.</summary>
public static class OrderWorkup
{
    /// <summary>The workup with the readings that still count, or null while no engine is chosen or it does not hold together.</summary>
    public static Workup? From(RepairOrder order, ShopSetup shop)
    {
        ArgumentNullException.ThrowIfNull(order);
        if (order.Vehicle.Engine is not { } spec || Engine.Create(spec) is not { IsValid: true } engine)
        {
            return null;
        }

        return new Workup
        {
            Id = order.Id.ToString(),
            Engine = engine.Value,
            Concern = order.Concern,
            Shop = shop,
            TriedRepairs = order.Finding is { UnprovenReason: not null } tried ? tried.Conclusion.Causes : [],
            EarlierRepairs = order.EarlierRepairs,
            Readings = [.. order.Readings.Where(r => !r.Superseded && !r.Withdrawn).Select(r => r.Reading)],
        };
    }
}
