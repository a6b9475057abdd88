using System.Collections.Immutable;
using System.IO.Compression;
using Microsoft.EntityFrameworkCore;
using ShopDiag.Storage.Backups;
using ShopDiag.Storage.Data;
using ShopDiag.Storage.Opening;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.People;
using ShopDiag.Storage.Rows;
using ShopDiag.Storage.Writing;

namespace ShopDiag.Storage.Personal;

/// <summary>A customer with what the shop has of them.</summary>
/// <param name="Id">Key.</param>
/// <param name="Name">Name, or what stands in its place once erased.</param>
/// <param name="Phone">Telephone.</param>
/// <param name="Email">E-mail.</param>
/// <param name="Cars">Their cars in words, with the plate.</param>
/// <param name="Orders">Numbers of their orders, newest first.</param>
/// <param name="OpenOrders">Numbers of those that are not handed over.</param>
/// <param name="LastSeen">When something last moved on one of their orders, UTC.</param>
/// <param name="ErasedAt">When they were erased, UTC; null while they were not.</param>
public sealed record CustomerOnFile(
    Guid Id, string Name, string Phone, string Email, ImmutableArray<string> Cars, ImmutableArray<int> Orders, ImmutableArray<int> OpenOrders, DateTime LastSeen, DateTime? ErasedAt);

/// <summary>What the shop knows of a person: found, handed out, erased (docs/data.md, Personal data).</summary>
public sealed class CustomerStore
{
    private const int MostFound = 50;

    private readonly ShopFolder _shop;
    private readonly IDbContextFactory<ShopDb> _contexts;
    private readonly ShopWriter _writer;
    private readonly ShopData _data;
    private readonly TimeProvider _time;

    internal CustomerStore(ShopFolder shop, IDbContextFactory<ShopDb> contexts, ShopWriter writer, ShopData data, TimeProvider time) =>
        (_shop, _contexts, _writer, _data, _time) = (shop, contexts, writer, data, time);

    /// <summary>Customers whose name, telephone, e-mail, plate or order number holds the text, by name, at most 50; empty for an empty text.</summary>
    public async Task<ImmutableArray<CustomerOnFile>> FindAsync(string text, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(text);
        const string Escape = @"\";
        var fold = SearchText.Fold(text);
        var (words, key) = (SearchText.Holds(fold), SearchText.Key(text));
        var keys = SearchText.Holds(key);
        if (fold.Length == 0)
        {
            return [];
        }

#pragma warning disable CA1305 // Never runs here: it becomes a CAST in SQL, which has no culture.
        return await ListAsync(
            db => db.Customers.Where(c =>
                EF.Functions.Like(SearchText.Fold(c.Name), words, Escape) || EF.Functions.Like(SearchText.Fold(c.Email), words, Escape)
                || (key.Length > 0 && (EF.Functions.Like(SearchText.Key(c.Phone), keys, Escape)
                    || db.Vehicles.Any(v => v.CustomerId == c.Id && EF.Functions.Like(SearchText.Key(v.Plate), keys, Escape))))
                || db.Orders.Any(o => o.CustomerId == c.Id && o.Number.ToString() == fold)),
            cancel).ConfigureAwait(false);
#pragma warning restore CA1305
    }

    /// <summary>One customer, or null.</summary>
    public async Task<CustomerOnFile?> GetAsync(Guid id, CancellationToken cancel = default) =>
        (await ListAsync(db => db.Customers.Where(c => c.Id == id), cancel).ConfigureAwait(false)).SingleOrDefault();

    /// <summary>Customers whose last order was handed over so many years ago or more, none of whose orders is open, and who are not erased; at most 50.</summary>
    public async Task<ImmutableArray<CustomerOnFile>> DueAsync(int years, CancellationToken cancel = default)
    {
        var before = _time.GetUtcNow().UtcDateTime.AddYears(-years);
        return await ListAsync(db => Due(db, before), cancel).ConfigureAwait(false);
    }

    /// <summary>Writes all that the shop has of a customer into an archive: <c>customer.jsonl</c>, photos and recordings. False when there is no such customer.</summary>
    public bool Export(Guid id, ZipArchive archive, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(archive);
        using var database = SqliteFile.Open(_shop.DatabaseFile);
        using var db = _contexts.CreateDbContext();
        database.Execute("BEGIN DEFERRED");
        (string, object?) customer = ("$customer", id.ToString().ToUpperInvariant());
        if (database.Number("SELECT count(*) FROM Customers WHERE Id = $customer", customer) == 0)
        {
            return false;
        }

        using (var lines = ShopData.Entry(archive, "customer.jsonl", CompressionLevel.Optimal))
        {
            RecordWriter.WriteHead(lines, DatabaseCheck.SchemaOf(database));
            foreach (var (table, condition) in RecordTable.All(db).Select(t => (t, ConditionOf(t))).Where(t => t.Item2 is not null))
            {
                RecordWriter.WriteRows(lines, database, table, condition!, customer);
            }
        }

        var files = db.Photos.Where(p => db.Orders.Any(o => o.Id == p.OrderId && o.CustomerId == id)).Select(p => p.Id).ToList().Select(p => $"photos/{p:N}.jpg")
            .Concat(db.Recordings.Where(r => db.Orders.Any(o => o.Id == r.OrderId && o.CustomerId == id)).Select(r => new { r.Id, r.Kind }).ToList().Select(r => KeptFiles.NameOf(r.Id, r.Kind)));
        _data.AddFiles(archive, files.Order(StringComparer.Ordinal), cancel);
        return true;
    }

    /// <summary>
    /// Erases a customer; the work stays, without the person (docs/data.md says what goes). Refused while one of their orders is open. Backups made before still hold the person until they are thinned out;
    /// put back, they are erased again.
    /// </summary>
    public async Task<SaveResult> EraseAsync(Guid id, string by, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(by);
        if (await GetAsync(id, cancel).ConfigureAwait(false) is not { } customer)
        {
            return new(SaveOutcome.Refused, "", "There is no such customer.");
        }

        if (!customer.OpenOrders.IsEmpty)
        {
            return new(SaveOutcome.Refused, "", $"Order {customer.OpenOrders[0]} is still open. Hand it over first.");
        }

        var files = await _writer.RunAsync(Permission.KeepData, w => CustomerErasure.ApplyAsync(w, id, _writer.Who(by), w.Now), cancel).ConfigureAwait(false);
        Delete(files);
        await EmptyLogAsync(cancel).ConfigureAwait(false);
        return new(SaveOutcome.Saved, "");
    }

    /// <summary>Erases the customers whose time is over; none when no time is set. Their number.</summary>
    public async Task<int> EraseDueAsync(int? years, CancellationToken cancel = default)
    {
        if (years is null)
        {
            return 0;
        }

        var erased = 0;
        while (await DueAsync(years.Value, cancel).ConfigureAwait(false) is { IsEmpty: false } due)
        {
            foreach (var customer in due)
            {
                Delete(await _writer.RunAsync(Permission.KeepData, w => CustomerErasure.ApplyAsync(w, customer.Id, "", w.Now), cancel).ConfigureAwait(false));
                erased++;
            }
        }

        if (erased > 0)
        {
            await EmptyLogAsync(cancel).ConfigureAwait(false);
        }

        return erased;
    }

    private static IQueryable<CustomerRow> Due(ShopDb db, DateTime before) => db.Customers.Where(c =>
        !db.Erasures.Any(e => e.CustomerId == c.Id)
        && db.Orders.Any(o => o.CustomerId == c.Id)
        && !db.Orders.Any(o => o.CustomerId == c.Id && ((o.Stage != OrderStage.HandedOver && o.Stage != OrderStage.MadeByMistake) || o.CreatedAt >= before || o.Moves.Any(m => m.At >= before))));

    private static string? ConditionOf(RecordTable table) => table.Name switch
    {
        "Customers" => "Id = $customer",
        "Vehicles" => "CustomerId = $customer",
        "Orders" or "Erasures" => "CustomerId = $customer",
        // Says which button was pressed when, for the program alone.
        "AppliedCommands" => null,
        _ when table.Columns.Any(c => c.Name == "OrderId") => "OrderId IN (SELECT Id FROM Orders WHERE CustomerId = $customer)",
        _ => null,
    };

    private async Task<ImmutableArray<CustomerOnFile>> ListAsync(Func<ShopDb, IQueryable<CustomerRow>> which, CancellationToken cancel)
    {
        var db = _contexts.CreateDbContext();
        await using (db.ConfigureAwait(false))
        {
            var customers = await which(db).AsNoTracking().OrderBy(c => c.Name).ThenBy(c => c.Id).Take(MostFound).Select(c => new
            {
                Customer = c,
                Cars = db.Vehicles.Where(v => v.CustomerId == c.Id).OrderBy(v => v.Plate).ThenBy(v => v.Id).Select(v => (v.Plate + " " + v.Description).Trim()).ToList(),
                Orders = db.Orders.Where(o => o.CustomerId == c.Id).OrderByDescending(o => o.Number).Select(o => new { o.Number, o.Stage, o.CreatedAt, Moved = o.Moves.Max(m => (DateTime?)m.At) }).ToList(),
                ErasedAt = db.Erasures.Where(e => e.CustomerId == c.Id).Select(e => (DateTime?)e.At).FirstOrDefault(),
            }).AsSplitQuery().ToListAsync(cancel).ConfigureAwait(false);
            return
            [
                .. customers.Select(c => new CustomerOnFile(
                    c.Customer.Id, c.Customer.Name, c.Customer.Phone, c.Customer.Email, [.. c.Cars.Where(w => w.Length > 0)], [.. c.Orders.Select(o => o.Number)],
                    [.. c.Orders.Where(o => o.Stage.IsOpen()).Select(o => o.Number)],
                    c.Orders.Select(o => o.Moved ?? o.CreatedAt).DefaultIfEmpty(DateTime.UnixEpoch).Max(), c.ErasedAt)),
            ];
        }
    }

    /// <summary>The log beside the database still holds the pages as they were.</summary>
    private Task EmptyLogAsync(CancellationToken cancel) => _writer.RunAloneAsync(
        Permission.KeepData,
        () =>
        {
            using var database = SqliteFile.Open(_shop.DatabaseFile);
            database.Execute("PRAGMA wal_checkpoint(TRUNCATE)");
            return Task.CompletedTask;
        },
        cancel);

    private void Delete(IEnumerable<string> files)
    {
        // After the commit: a file without a row is only space, and the check names it.
        foreach (var path in files.Select(f => KeptFiles.PathIn(_shop.FullPath, f)).Where(File.Exists))
        {
            File.Delete(path);
        }
    }
}
