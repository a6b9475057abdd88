using System.Collections.Immutable;
using System.Globalization;
using System.Linq.Expressions;
using Microsoft.EntityFrameworkCore;
using ShopDiag.Storage.Rows;

namespace ShopDiag.Storage.Orders;

/// <summary>Reads orders: one context an operation, nothing tracked.</summary>
internal sealed class OrderReader(IDbContextFactory<ShopDb> contexts)
{
    /// <summary>Lines that a search answers at most.</summary>
    private const int MostFound = 50;

    /// <summary>The one order of a condition, or null.</summary>
    public async Task<RepairOrder?> OneAsync(Expression<Func<OrderRow, bool>> condition, CancellationToken cancel)
    {
        var db = contexts.CreateDbContext();
        await using (db.ConfigureAwait(false))
        {
            // Split: readings times moves times findings in one statement would be their product. A change that lands between
            // the statements is told on the bus, and the page reads again.
            var row = await db.Orders.AsNoTracking().AsSplitQuery()
                .Include(o => o.Customer).Include(o => o.Vehicle)
                .Include(o => o.Readings).Include(o => o.Obstacles).Include(o => o.Findings).Include(o => o.Moves)
                .Include(o => o.Estimate).Include(o => o.Approvals).Include(o => o.Parts)
                .SingleOrDefaultAsync(condition, cancel).ConfigureAwait(false);
            return row is null ? null : row.ToRecord() with { EarlierRepairs = await EarlierOrders.OfAsync(db, row.ComebackOf, cancel).ConfigureAwait(false) };
        }
    }

    /// <summary>What is in the building, oldest promise first, orders without a promise last by age.</summary>
    public async Task<ImmutableArray<OrderSummary>> OpenAsync(CancellationToken cancel)
    {
        var db = contexts.CreateDbContext();
        await using (db.ConfigureAwait(false))
        {
            var open = db.Orders.Where(o => OrderStages.Open.Contains(o.Stage))
                .OrderBy(o => o.PromisedAt == null).ThenBy(o => o.PromisedAt).ThenBy(o => o.CreatedAt).ThenBy(o => o.Number);
            return await ListAsync(open, cancel).ConfigureAwait(false);
        }
    }

    /// <summary>Orders that hold the text in one of their fields, newest first.</summary>
    public async Task<ImmutableArray<OrderSummary>> FindAsync(string text, CancellationToken cancel)
    {
        if (OrderSearch.Asks(text) is not { } asks)
        {
            return [];
        }

        var db = contexts.CreateDbContext();
        await using (db.ConfigureAwait(false))
        {
            var numbers = await OrderSearch.NumbersAsync(db, asks, MostFound, cancel).ConfigureAwait(false);
            return await ListAsync(db.Orders.Where(o => EF.Parameter(numbers).Contains(o.Number)).OrderByDescending(o => o.Number), cancel).ConfigureAwait(false);
        }
    }

    /// <summary>Known vehicles by plate or VIN, with whoever brought each last.</summary>
    public async Task<ImmutableArray<(Vehicle Vehicle, Customer Customer)>> KnownAsync(string plateOrVin, CancellationToken cancel)
    {
        var key = SearchText.Key(plateOrVin);
        if (key.Length == 0)
        {
            return [];
        }

        var db = contexts.CreateDbContext();
        await using (db.ConfigureAwait(false))
        {
            var rows = await db.Vehicles.AsNoTracking().Include(v => v.Customer)
                .Where(v => v.PlateKey == key || v.VinKey == key)
                .OrderBy(v => v.Plate).ThenBy(v => v.Id)
                .ToListAsync(cancel).ConfigureAwait(false);
            return [.. rows.Select(v => (v.ToRecord(), v.Customer!.ToRecord()))];
        }
    }

    private static async Task<ImmutableArray<OrderSummary>> ListAsync(IQueryable<OrderRow> orders, CancellationToken cancel)
    {
        var lines = await orders.AsNoTracking().Select(o => new
        {
            o.Id,
            o.Number,
            o.Stage,
            o.Vehicle!.Plate,
            o.Vehicle.Year,
            o.Vehicle.Description,
            o.Customer!.Name,
            o.ConcernText,
            o.Technician,
            o.PromisedAt,
            o.CreatedAt,
            o.ComebackOf,
            Causes = o.Findings.OrderByDescending(f => f.Sequence).Select(f => f.Causes).FirstOrDefault(),
        }).ToListAsync(cancel).ConfigureAwait(false);
        return
        [
            .. lines.Select(l => new OrderSummary
            {
                Id = l.Id,
                Number = l.Number,
                Stage = l.Stage,
                Plate = l.Plate,
                Car = string.Create(CultureInfo.InvariantCulture, $"{l.Year} {l.Description}").Trim(),
                CustomerName = l.Name,
                ConcernText = l.ConcernText,
                Technician = l.Technician,
                PromisedAt = l.PromisedAt,
                CreatedAt = l.CreatedAt,
                ComebackOf = l.ComebackOf,
                Causes = OrderMap.Words(l.Causes ?? ""),
            }),
        ];
    }
}
