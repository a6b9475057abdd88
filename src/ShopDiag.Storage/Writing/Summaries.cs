using Microsoft.EntityFrameworkCore;
using ShopDiag.Storage.Comebacks;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Rows;

namespace ShopDiag.Storage.Writing;

/// <summary>
/// What is kept of each order beside its own rows so that a large shop can be counted and searched: its case (<see cref="CaseRow"/>) and what it is found by
/// (<see cref="OrderSearch"/>). Both are made anew of the order's rows after every command that changes it, in the same transaction, so no command can forget to.
/// </summary>
internal static class Summaries
{
    /// <summary>Orders filled in at once: a start that is killed goes on after the last full lot.</summary>
    private const int Lot = 500;

    /// <summary>Brings what is kept of some orders in step with their rows, which must be saved.</summary>
    public static async Task KeepAsync(ShopDb db, IReadOnlyCollection<Guid> orders, CancellationToken cancel = default)
    {
        var made = await new CaseMaker(db, orders).MakeAsync(cancel).ConfigureAwait(false);
        int[] numbers = [.. made.Select(c => c.Number)];
        var kept = await db.Cases.Where(c => EF.Parameter(numbers).Contains(c.Number)).ToDictionaryAsync(c => c.Number, cancel).ConfigureAwait(false);
        foreach (var row in made)
        {
            if (kept.TryGetValue(row.Number, out var old))
            {
                db.Entry(old).CurrentValues.SetValues(row);
            }
            else
            {
                db.Cases.Add(row);
            }
        }

        await db.SaveChangesAsync(cancel).ConfigureAwait(false);
        await OrderSearch.KeepAsync(db, orders, cancel).ConfigureAwait(false);
    }

    /// <summary>Makes what is missing: the orders of a shop that was written before there were summaries. Nothing to do otherwise.</summary>
    public static async Task FillAsync(Func<ShopDb> contexts, CancellationToken cancel)
    {
        bool more;
        do
        {
            var db = contexts();
            await using (db.ConfigureAwait(false))
            {
                var lot = await Missing(db).Take(Lot).ToListAsync(cancel).ConfigureAwait(false);
                var transaction = await db.Database.BeginTransactionAsync(cancel).ConfigureAwait(false);
                await using (transaction.ConfigureAwait(false))
                {
                    await KeepAsync(db, lot, cancel).ConfigureAwait(false);
                    await transaction.CommitAsync(cancel).ConfigureAwait(false);
                }

                more = lot.Count == Lot;
            }
        }
        while (more);
    }

    /// <summary>True when some are missing.</summary>
    public static Task<bool> AreMissingAsync(ShopDb db, CancellationToken cancel) => Missing(db).AnyAsync(cancel);

    // They are made in the order of the numbers, so what is missing comes after the last.
    private static IQueryable<Guid> Missing(ShopDb db) =>
        db.Orders.Where(o => o.Number > (db.Cases.Max(c => (int?)c.Number) ?? 0)).OrderBy(o => o.Number).Select(o => o.Id);
}
