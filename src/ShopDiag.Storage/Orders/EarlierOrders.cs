using System.Collections.Immutable;
using Microsoft.EntityFrameworkCore;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Storage.Json;
using ShopDiag.Storage.Rows;

namespace ShopDiag.Storage.Orders;

/// <summary>Follows a comeback back: the order it is a comeback of, and that one's, as far as something was repaired on them.</summary>
internal static class EarlierOrders
{
    /// <summary>Orders followed back at most: a car that came back oftener says nothing new.</summary>
    private const int Most = 5;

    /// <summary>The repairs, the newest first.</summary>
    public static async Task<ImmutableArray<EarlierRepair>> OfAsync(ShopDb db, Guid? comebackOf, CancellationToken cancel)
    {
        var repairs = ImmutableArray.CreateBuilder<EarlierRepair>();
        for (var steps = 0; comebackOf is { } earlier && steps < Most; steps++)
        {
            var order = await db.Orders.AsNoTracking().Where(o => o.Id == earlier).Select(o => new
            {
                o.Number,
                o.ComebackOf,
                Repaired = db.Cases.Any(c => c.Number == o.Number && c.Repaired),
                // One column: asked for whole rows, SQLite numbers the findings of all orders first.
                Finding = o.Findings.OrderByDescending(f => f.Sequence).Select(f => f.FindingJson).FirstOrDefault(),
            }).SingleAsync(cancel).ConfigureAwait(false);
            if (order is { Repaired: true, Finding: { } json })
            {
                var done = StorageJson.Read<OrderFinding>(json).Conclusion;
                repairs.Add(new(FormattableString.Invariant($"order {order.Number}"), done.Causes, done.Repair.Parts));
            }

            comebackOf = order.ComebackOf;
        }

        return repairs.ToImmutable();
    }
}
