using Microsoft.EntityFrameworkCore;
using ShopDiag.Storage.Backups;
using ShopDiag.Storage.Migrations;
using ShopDiag.Storage.Rows;
using ShopDiag.Storage.Writing;

namespace ShopDiag.Storage.Personal;

/// <summary>
/// Takes a person out of the records and leaves the work: orders with their numbers, times, readings, causes, lines and amounts stay for the shop's figures and its books; who the customer was,
/// the car's plate and VIN, every free text, the signature, photos (plates and people are on them) and recordings (voices are) go.
/// </summary>
internal static class CustomerErasure
{
    /// <summary>What stands in place of the name, so that a list does not show an order without one.</summary>
    public const string Tombstone = "Erased customer";

    // Free text in tables of which rows are never changed: the one exception, made within the transaction that erases. {0} is the condition on the orders.
    private static readonly (string Table, string Set)[] AppendOnlyTexts =
    [
        ("Readings", "Note = NULL"),
        ("Obstacles", "Why = ''"),
        ("Audit", "Before = NULL, After = NULL"),
        ("StageMoves", "Reason = CASE WHEN Reason = '' THEN '' ELSE 'Erased' END"),
        ("Findings", "FindingJson = CASE WHEN json_extract(FindingJson, '$.unprovenReason') IS NULL THEN FindingJson ELSE json_set(FindingJson, '$.unprovenReason', 'Erased') END"),
    ];

    /// <summary>Erases; the names of the files that may be deleted once this is committed. A customer who is not there comes out as nothing to do.</summary>
    public static async Task<IReadOnlyList<string>> ApplyAsync(WriteScope write, Guid customerId, string by, DateTime at)
    {
        var db = write.Db;
        if (await db.Customers.SingleOrDefaultAsync(c => c.Id == customerId).ConfigureAwait(false) is not { } customer)
        {
            return [];
        }

        (customer.Name, customer.Phone, customer.Email) = (Tombstone, "", "");
        if (!await db.Erasures.AnyAsync(e => e.CustomerId == customerId).ConfigureAwait(false))
        {
            db.Erasures.Add(new() { CustomerId = customerId, At = at, By = by });
        }

        await db.SaveChangesAsync().ConfigureAwait(false);
        await EraseVehiclesAsync(db, customerId).ConfigureAwait(false);
        var files = await EraseOrdersAsync(db, customerId).ConfigureAwait(false);
        foreach (var order in await db.Orders.Where(o => o.CustomerId == customerId).Select(o => o.Id).ToListAsync().ConfigureAwait(false))
        {
            write.Changed(order);
        }

        return files;
    }

    /// <summary>A car that is somebody else's by now keeps its plate: it is theirs.</summary>
    private static Task<int> EraseVehiclesAsync(ShopDb db, Guid customerId) => db.Vehicles
        .Where(v => v.CustomerId == customerId && !db.Orders.Any(o => o.VehicleId == v.Id && o.CustomerId != customerId))
        .ExecuteUpdateAsync(set => set.SetProperty(v => v.Plate, "").SetProperty(v => v.Vin, ""));

    private static async Task<IReadOnlyList<string>> EraseOrdersAsync(ShopDb db, Guid customerId)
    {
        var orders = db.Orders.Where(o => o.CustomerId == customerId);
        await orders.ExecuteUpdateAsync(set => set
            .SetProperty(o => o.ConcernText, "").SetProperty(o => o.WrittenConcern, "")
            .SetProperty(o => o.WrittenCause, "").SetProperty(o => o.WrittenCorrection, "").SetProperty(o => o.MonitorsNoted, "")).ConfigureAwait(false);
        await db.Approvals.Where(a => orders.Any(o => o.Id == a.OrderId)).ExecuteUpdateAsync(set => set
            .SetProperty(a => a.Person, Tombstone).SetProperty(a => a.Contact, "").SetProperty(a => a.Note, "").SetProperty(a => a.SignatureJson, (string?)null)).ConfigureAwait(false);
        foreach (var (table, set) in AppendOnlyTexts)
        {
            await AppendOnly.WithoutGuardAsync(db, table, async () =>
            {
#pragma warning disable EF1002 // Both texts are constants above; the customer goes in as a parameter.
                await db.Database.ExecuteSqlRawAsync($"UPDATE {table} SET {set} WHERE OrderId IN (SELECT Id FROM Orders WHERE CustomerId = {{0}})", customerId).ConfigureAwait(false);
#pragma warning restore EF1002
            }).ConfigureAwait(false);
        }

        var photos = db.Photos.Where(p => orders.Any(o => o.Id == p.OrderId));
        var recordings = db.Recordings.Where(r => orders.Any(o => o.Id == r.OrderId));
        var names = new List<string>();
        foreach (var id in await photos.Select(p => p.Id).ToListAsync().ConfigureAwait(false))
        {
            names.AddRange([$"photos/{id:N}.jpg", $"photos/{id:N}.small.jpg"]);
        }

        names.AddRange((await recordings.Select(r => new { r.Id, r.Kind }).ToListAsync().ConfigureAwait(false))
            .Select(r => KeptFiles.NameOf(r.Id, r.Kind)));
        await photos.ExecuteDeleteAsync().ConfigureAwait(false);
        await recordings.ExecuteDeleteAsync().ConfigureAwait(false);
        return [.. names.Where(KeptFiles.IsName)];
    }
}
