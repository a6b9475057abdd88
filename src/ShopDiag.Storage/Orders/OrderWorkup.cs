using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Storage.Orders;

/// <summary>Makes the reasoning's workup from an order.</summary>
public static class OrderWorkup
{
    /// <summary>The workup with the readings that still count and the tests that still cannot be taken, or null while no engine is chosen or it does not hold together.</summary>
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
            // One that was said of another engine, or of a test that there is no more, is passed over: it keeps nothing from being taken.
            Obstacles = [.. order.Obstacles.Where(o => o.Stands && o.Obstacle.Error(Knowledge.Shipped, engine.Value) is null).Select(o => o.Obstacle)],
        };
    }
}
