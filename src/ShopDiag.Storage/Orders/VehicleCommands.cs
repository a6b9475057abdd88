using Microsoft.EntityFrameworkCore;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Storage.Json;
using ShopDiag.Storage.Learning;
using ShopDiag.Storage.Rows;
using ShopDiag.Storage.Writing;

namespace ShopDiag.Storage.Orders;

/// <summary>Changes which vehicle an order is for and which engine it has.</summary>
internal static class VehicleCommands
{
    /// <summary>Puts an engine on the order's vehicle.</summary>
    public static async Task<SaveResult> SetEngineAsync(WriteScope write, Command command, EngineSpec spec, string title)
    {
        if (await write.OrderAsync(command.Order).ConfigureAwait(false) is not { } order)
        {
            return Answers.NoSuchOrder;
        }

        var vehicle = order.Vehicle!;
        if (await write.RepeatedAsync(command, vehicle.EngineTitle).ConfigureAwait(false) is { } repeated)
        {
            return repeated;
        }

        var engine = Engine.Create(spec);
        if (!engine.IsValid)
        {
            return new(SaveOutcome.Refused, vehicle.EngineTitle, engine.Error!.Message);
        }

        var orders = write.Db.Orders.Where(o => o.VehicleId == vehicle.Id);
        if (await EngineFit.MisfitAsync(orders, engine.Value).ConfigureAwait(false) is { } misfit)
        {
            return new(SaveOutcome.Refused, vehicle.EngineTitle, misfit);
        }

        var before = vehicle.EngineTitle;
        vehicle.EngineJson = StorageJson.Write(Whole(engine.Value.Spec));
        vehicle.EngineTitle = title;
        write.Applied(command, before, title);
        foreach (var touched in await orders.Select(o => o.Id).ToListAsync().ConfigureAwait(false))
        {
            await ProvenDiagnoses.KeepAsync(write, touched, vehicle.EngineJson).ConfigureAwait(false);
            write.Changed(touched);
        }

        return new(SaveOutcome.Saved, title);
    }

    /// <summary>Puts a known vehicle and its customer on an order.</summary>
    public static async Task<SaveResult> UseAsync(WriteScope write, Command command, Guid vehicleId)
    {
        if (await write.OrderAsync(command.Order).ConfigureAwait(false) is not { } order)
        {
            return Answers.NoSuchOrder;
        }

        var current = order.VehicleId.ToString();
        if (await write.RepeatedAsync(command, current).ConfigureAwait(false) is { } repeated)
        {
            return repeated;
        }

        if (await write.Db.Vehicles.SingleOrDefaultAsync(v => v.Id == vehicleId).ConfigureAwait(false) is not { } known)
        {
            return new(SaveOutcome.Refused, current, "There is no such vehicle in this shop's records. Nothing was saved.");
        }

        if (await MisfitAsync(write, order, known).ConfigureAwait(false) is { } misfit)
        {
            return new(SaveOutcome.Refused, current, misfit);
        }

        if (known.Id != order.VehicleId)
        {
            await ReplaceAsync(write, order, known).ConfigureAwait(false);
            await ProvenDiagnoses.KeepAsync(write, order.Id, known.EngineJson).ConfigureAwait(false);
        }

        write.Applied(command);
        return new(SaveOutcome.Saved, known.Id.ToString());
    }

    private static async Task<string?> MisfitAsync(WriteScope write, OrderRow order, VehicleRow known) =>
        known.EngineJson is { } json && Engine.Create(StorageJson.Read<EngineSpec>(json)) is { IsValid: true } engine
            ? await EngineFit.MisfitAsync(write.Db.Orders.Where(o => o.Id == order.Id), engine.Value).ConfigureAwait(false)
            : null;

    /// <summary>The vehicle and customer that were being written up go when no other order has them: half a plate typed is no vehicle.</summary>
    private static async Task ReplaceAsync(WriteScope write, OrderRow order, VehicleRow known)
    {
        var (vehicle, customer) = (order.Vehicle!, order.Customer!);
        order.Vehicle = known;
        order.VehicleId = known.Id;
        order.CustomerId = known.CustomerId;
        if (!await write.Db.Orders.AnyAsync(o => o.VehicleId == vehicle.Id && o.Id != order.Id).ConfigureAwait(false))
        {
            write.Db.Vehicles.Remove(vehicle);
        }

        if (customer.Id != known.CustomerId
            && !await write.Db.Orders.AnyAsync(o => o.CustomerId == customer.Id && o.Id != order.Id).ConfigureAwait(false)
            && !await write.Db.Vehicles.AnyAsync(v => v.CustomerId == customer.Id && v.Id != vehicle.Id).ConfigureAwait(false))
        {
            write.Db.Customers.Remove(customer);
        }
    }

    /// <summary>Lists left out in a description become empty ones, which is what they mean.</summary>
    private static EngineSpec Whole(EngineSpec spec) =>
        spec.FiringIntervals.IsDefault ? spec with { FiringIntervals = [] } : spec;
}
