using Microsoft.EntityFrameworkCore;
using ShopDiag.Storage.Rows;
using ShopDiag.Storage.Writing;

namespace ShopDiag.Storage.Orders;

/// <summary>Opens orders.</summary>
internal static class OrderOpening
{
    /// <summary>The number of a shop's first order. Four digits from the start, so that a number is never taken for a cylinder or a price.</summary>
    public const int FirstNumber = 1001;

    /// <summary>Opens an order; answers false when it is open already.</summary>
    public static async Task<bool> OpenAsync(WriteScope write, Guid id, string by)
    {
        if (await write.Db.Orders.AnyAsync(o => o.Id == id).ConfigureAwait(false))
        {
            return false;
        }

        var customer = new CustomerRow { Id = Guid.CreateVersion7(write.Now) };
        var vehicle = new VehicleRow { Id = Guid.CreateVersion7(write.Now), CustomerId = customer.Id };
        write.Db.AddRange(customer, vehicle, new OrderRow
        {
            Id = id,
            Number = await NextNumberAsync(write.Db).ConfigureAwait(false),
            Stage = OrderStage.WrittenUp,
            CustomerId = customer.Id,
            VehicleId = vehicle.Id,
            CreatedAt = write.Now,
            Moves = [new StageMove(OrderStage.WrittenUp, write.Now, by, "").ToRow(id, 1)],
        });
        write.Record(id, by, "open order");
        write.Changed(id);
        return true;
    }

    private static async Task<int> NextNumberAsync(ShopDb db) =>
        (await db.Orders.MaxAsync(o => (int?)o.Number).ConfigureAwait(false) ?? FirstNumber - 1) + 1;
}
