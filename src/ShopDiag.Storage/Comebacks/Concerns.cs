using System.Collections.Immutable;
using Microsoft.EntityFrameworkCore;
using ShopDiag.Comebacks.Repairs;
using ShopDiag.Storage.Rows;

namespace ShopDiag.Storage.Comebacks;

/// <summary>What orders say of their trouble: needed to compare two of them, and for no figure.</summary>
internal static class Concerns
{
    /// <summary>Orders asked about in one statement.</summary>
    private const int AtOnce = 1000;

    /// <summary>The cases with their codes, conditions and the customer's words on them.</summary>
    public static async Task<ImmutableArray<RepairCase>> OnAsync(ShopDb db, ImmutableArray<RepairCase> cases, CancellationToken cancel)
    {
        var made = ImmutableArray.CreateBuilder<RepairCase>(cases.Length);
        foreach (var some in cases.Chunk(AtOnce))
        {
            Guid[] keys = [.. some.Select(c => c.OrderId)];
            var said = await db.Orders.Where(o => EF.Parameter(keys).Contains(o.Id)).Select(o => new { o.Id, o.ConcernCodes, o.ConcernWhen, o.ConcernText })
                .ToDictionaryAsync(o => o.Id, cancel).ConfigureAwait(false);
            made.AddRange(some.Select(c => said[c.OrderId]).Zip(some, (o, c) => c with { Codes = OrderMap.Words(o.ConcernCodes), When = OrderMap.Words(o.ConcernWhen), ConcernText = o.ConcernText }));
        }

        return made.MoveToImmutable();
    }
}
