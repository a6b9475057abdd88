using System.Globalization;
using Microsoft.EntityFrameworkCore;
using ShopDiag.Estimates;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.People;
using ShopDiag.Storage.Rows;
using ShopDiag.Storage.Writing;

namespace ShopDiag.Storage.Estimates;

/// <summary>The shop's own list of prices and labour times. Putting an entry again is harmless: its key says which it is.</summary>
public sealed class PriceStore
{
    private readonly IDbContextFactory<ShopDb> _contexts;
    private readonly ShopWriter _writer;

    internal PriceStore(IDbContextFactory<ShopDb> contexts, ShopWriter writer) => (_contexts, _writer) = (contexts, writer);

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
            Permission.EditPrices,
            async write =>
            {
                var known = await write.Db.Prices.ToDictionaryAsync(p => p.Key).ConfigureAwait(false);
                var added = 0;
                foreach (var row in entries.Select(e => PriceRow.Of(Tidy(e))))
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

                write.Record("import prices", after: string.Create(CultureInfo.InvariantCulture, $"{entries.Count} entries, {added} of them new"));
                return added;
            },
            cancel);
    }

    /// <summary>
    /// Saves one entry, in the place of another when its kind, name or car has changed. Refused when a different entry of that kind, name and car is on the
    /// list already; repeating it is harmless. <see cref="SaveResult.Current"/> is the entry's key.
    /// </summary>
    /// <param name="entry">The entry.</param>
    /// <param name="replaces">Key of the entry whose place it takes; empty for a new one.</param>
    /// <param name="cancel">Gives up waiting.</param>
    public Task<SaveResult> SaveAsync(PriceEntry entry, string replaces, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(entry);
        ArgumentNullException.ThrowIfNull(replaces);
        var tidy = Tidy(entry);
        return _writer.SaveAsync(
            Permission.EditPrices,
            async write =>
            {
                var there = await write.Db.Prices.SingleOrDefaultAsync(p => p.Key == tidy.Key).ConfigureAwait(false);
                if (there is not null && tidy.Key != replaces && there.ToRecord() != tidy)
                {
                    return new SaveResult(SaveOutcome.Refused, replaces, "An entry of that kind, name and car is on the list already. Change that one.");
                }

                if (replaces.Length > 0 && replaces != tidy.Key)
                {
                    await write.Db.Prices.Where(p => p.Key == replaces).ExecuteDeleteAsync().ConfigureAwait(false);
                }

                if (there is null)
                {
                    write.Db.Prices.Add(PriceRow.Of(tidy));
                }
                else
                {
                    write.Db.Entry(there).CurrentValues.SetValues(PriceRow.Of(tidy));
                }

                write.Record("save price", replaces.Length > 0 ? replaces : null, tidy.Key);
                return new SaveResult(SaveOutcome.Saved, tidy.Key);
            },
            cancel);
    }

    /// <summary>Takes an entry off the list; true when it was there.</summary>
    public Task<bool> RemoveAsync(string key, CancellationToken cancel = default) =>
        _writer.RunAsync(
            Permission.EditPrices,
            async write =>
            {
                var gone = await write.Db.Prices.Where(p => p.Key == key).ExecuteDeleteAsync().ConfigureAwait(false) > 0;
                if (gone)
                {
                    write.Record("remove price", key);
                }

                return gone;
            },
            cancel);

    private static PriceEntry Tidy(PriceEntry entry) => entry with
    {
        Name = PlainText.Line(entry.Name), For = PlainText.Line(entry.For), Vendor = PlainText.Line(entry.Vendor), Maker = PlainText.Line(entry.Maker), PartNumber = PlainText.Line(entry.PartNumber),
    };
}
