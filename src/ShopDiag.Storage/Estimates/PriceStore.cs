using Microsoft.EntityFrameworkCore;
using ShopDiag.Estimates;
using ShopDiag.Storage.Rows;
using ShopDiag.Storage.Writing;

namespace ShopDiag.Storage.Estimates;

/// <summary>The shop's own list of prices and labour times. Putting an entry again is harmless: its key says which it is.</summary>
public sealed class PriceStore
{
    private readonly IDbContextFactory<ShopDb> _contexts;
    private readonly WriteQueue _writer;

    internal PriceStore(IDbContextFactory<ShopDb> contexts, WriteQueue writer) => (_contexts, _writer) = (contexts, writer);

    /// <summary>The whole list.</summary>
    public async Task<PriceList> GetAsync(CancellationToken cancel = default)
    {
        var db = _contexts.CreateDbContext();
        await using (db.ConfigureAwait(false))
        {
            return new((await db.Prices.AsNoTracking().ToListAsync(cancel).ConfigureAwait(false)).Select(p => p.ToRecord()));
        }
    }

    /// <summary>Puts entries in the list; one with a key that is there already takes its place. The number of entries that are new.</summary>
    public Task<int> PutAsync(IReadOnlyCollection<PriceEntry> entries, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(entries);
        return _writer.RunAsync(
            async write =>
            {
                var known = await write.Db.Prices.ToDictionaryAsync(p => p.Key).ConfigureAwait(false);
                var added = 0;
                foreach (var row in entries.Select(PriceRow.Of))
                {
                    if (known.TryGetValue(row.Key, out var before))
                    {
                        write.Db.Entry(before).CurrentValues.SetValues(row);
                    }
                    else
                    {
                        write.Db.Prices.Add(row);
                        known[row.Key] = row;
                        added++;
                    }
                }

                return added;
            },
            cancel);
    }

    /// <summary>Takes an entry off the list; true when it was there.</summary>
    public Task<bool> RemoveAsync(string key, CancellationToken cancel = default) =>
        _writer.RunAsync(async write => await write.Db.Prices.Where(p => p.Key == key).ExecuteDeleteAsync().ConfigureAwait(false) > 0, cancel);
}
