using Microsoft.EntityFrameworkCore;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Storage.Json;
using ShopDiag.Storage.Rows;

namespace ShopDiag.Storage.Orders;

/// <summary>Keeps readings and engine together: no reading on a cylinder that the engine does not have.</summary>
internal static class EngineFit
{
    /// <summary>Why a reading cannot stand at a place on the vehicle's engine, in plain words; null when it can, or while no engine is chosen.</summary>
    public static string? Misfit(VehicleRow vehicle, Place at)
    {
        if (vehicle.EngineJson is not { } json)
        {
            return null;
        }

        var engine = Engine.Create(StorageJson.Read<EngineSpec>(json));
        return engine.IsValid && !engine.Value.Has(at)
            ? $"This engine has no {at}; it has cylinders 1 to {engine.Value.CylinderCount}. Nothing was saved."
            : null;
    }

    /// <summary>Why an engine cannot be put under the readings that count on some orders, in plain words, or null.</summary>
    public static async Task<string?> MisfitAsync(IQueryable<OrderRow> orders, Engine engine)
    {
        var taken = await orders.AsNoTracking().Include(o => o.Readings).ToListAsync().ConfigureAwait(false);
        foreach (var order in taken.OrderBy(o => o.Number))
        {
            var homeless = order.Readings.ToRecords().FirstOrDefault(r => r is { Superseded: false, Withdrawn: false } && !engine.Has(r.Reading.At));
            if (homeless is not null)
            {
                return $"Order {order.Number} has a reading at {homeless.Reading.At}, which this engine does not have. Take that reading back first. Nothing was saved.";
            }
        }

        return null;
    }
}
