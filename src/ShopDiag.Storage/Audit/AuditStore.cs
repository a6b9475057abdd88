using System.Collections.Immutable;
using Microsoft.EntityFrameworkCore;
using ShopDiag.Storage.Rows;

namespace ShopDiag.Storage.Audit;

/// <summary>Reads who did what when. Written only with the change itself, in the same transaction; triggers of the database refuse a change or a deletion.</summary>
public sealed class AuditStore
{
    private readonly IDbContextFactory<ShopDb> _contexts;

    internal AuditStore(IDbContextFactory<ShopDb> contexts) => _contexts = contexts;

    /// <summary>What was done to an order, newest first.</summary>
    /// <param name="orderId">The order.</param>
    /// <param name="before">Only entries with a smaller number; null for the newest.</param>
    /// <param name="most">At most so many.</param>
    /// <param name="cancel">Gives up.</param>
    public Task<ImmutableArray<AuditEntry>> OfOrderAsync(Guid orderId, long? before, int most, CancellationToken cancel = default) =>
        ReadAsync(a => a.Where(e => e.OrderId == orderId), before, most, cancel);

    /// <summary>What was done to the shop itself (people, devices, sign-ins, settings, prices), newest first.</summary>
    /// <param name="before">Only entries with a smaller number; null for the newest.</param>
    /// <param name="most">At most so many.</param>
    /// <param name="cancel">Gives up.</param>
    public Task<ImmutableArray<AuditEntry>> OfShopAsync(long? before, int most, CancellationToken cancel = default) =>
        ReadAsync(a => a.Where(e => e.OrderId == null), before, most, cancel);

    private async Task<ImmutableArray<AuditEntry>> ReadAsync(Func<IQueryable<AuditRow>, IQueryable<AuditRow>> which, long? before, int most, CancellationToken cancel)
    {
        var db = _contexts.CreateDbContext();
        await using (db.ConfigureAwait(false))
        {
            var rows = await which(db.Audit.AsNoTracking()).Where(e => before == null || e.Sequence < before).OrderByDescending(e => e.Sequence).Take(most)
                .ToListAsync(cancel).ConfigureAwait(false);
            return [.. rows.Select(r => new AuditEntry(r.Sequence, r.At, r.Who, r.Device, r.What, r.Before, r.After, r.OrderId))];
        }
    }
}
