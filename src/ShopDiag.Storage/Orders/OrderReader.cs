using System.Collections.Immutable;
using System.Globalization;
using System.Linq.Expressions;
using System.Text.RegularExpressions;
using Microsoft.EntityFrameworkCore;
using ShopDiag.Diagnosis;
using ShopDiag.Storage.Rows;

namespace ShopDiag.Storage.Orders;

/// <summary>Reads orders: one context an operation, nothing tracked.</summary>
internal sealed partial class OrderReader(IDbContextFactory<ShopDb> contexts)
{
    /// <summary>Lines that a search answers at most.</summary>
    private const int MostFound = 50;

    private static readonly string TroubleCodes = Knowledge.Shipped.CodesTest!.Id;

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
                .Include(o => o.Readings).Include(o => o.Findings).Include(o => o.Moves)
                .Include(o => o.Estimate).Include(o => o.Approvals).Include(o => o.Parts)
                .SingleOrDefaultAsync(condition, cancel).ConfigureAwait(false);
            return row?.ToRecord();
        }
    }

    /// <summary>What is in the building, oldest promise first, orders without a promise last by age.</summary>
    public async Task<ImmutableArray<OrderSummary>> OpenAsync(CancellationToken cancel)
    {
        var db = contexts.CreateDbContext();
        await using (db.ConfigureAwait(false))
        {
            var open = db.Orders.Where(o => o.Stage != OrderStage.HandedOver)
                .OrderBy(o => o.PromisedAt == null).ThenBy(o => o.PromisedAt).ThenBy(o => o.CreatedAt).ThenBy(o => o.Number);
            return await ListAsync(open, cancel).ConfigureAwait(false);
        }
    }

    /// <summary>Orders that hold the text in one of their fields, newest first.</summary>
    public async Task<ImmutableArray<OrderSummary>> FindAsync(string text, CancellationToken cancel)
    {
        var fold = SearchText.Fold(text);
        if (fold.Length == 0)
        {
            return [];
        }

        var db = contexts.CreateDbContext();
        await using (db.ConfigureAwait(false))
        {
            var found = db.Orders.Where(Holds(fold)).OrderByDescending(o => o.CreatedAt).ThenByDescending(o => o.Number).Take(MostFound);
            return await ListAsync(found, cancel).ConfigureAwait(false);
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
                .Where(v => SearchText.Key(v.Plate) == key || SearchText.Key(v.Vin) == key)
                .OrderBy(v => v.Plate).ThenBy(v => v.Id)
                .ToListAsync(cancel).ConfigureAwait(false);
            return [.. rows.Select(v => (v.ToRecord(), v.Customer!.ToRecord()))];
        }
    }

    /// <summary>
    /// Number, plate, name, VIN, code (of the concern, or of a reading that still counts) or cause of the finding that counts.
    /// Every value goes in as a parameter.
    /// </summary>
    private static Expression<Func<OrderRow, bool>> Holds(string fold)
    {
        const string Escape = @"\";
        var words = SearchText.Holds(fold);
        var key = SearchText.Key(fold);
        var keys = SearchText.Holds(key);
        // Signs alone ("%", an emoji) have no letters to look for in a plate, and an empty key would match every one.
        var hasKey = key.Length > 0;
        // The quotation mark before it keeps the names of the fields out ("codes" itself would be found everywhere).
        var hasCode = CodeStart().IsMatch(key);
        var quoted = SearchText.Holds("\"" + key);
#pragma warning disable CA1305 // Never runs here: it becomes a CAST in SQL, which has no culture.
        return o =>
            EF.Functions.Like(o.Number.ToString(), words, Escape)
            || EF.Functions.Like(SearchText.Fold(o.Customer!.Name), words, Escape)
            || (hasKey && (EF.Functions.Like(SearchText.Key(o.Vehicle!.Plate), keys, Escape)
                || EF.Functions.Like(SearchText.Key(o.Vehicle.Vin), keys, Escape)
                || EF.Functions.Like(o.ConcernCodes, keys, Escape)
                || (hasCode && o.Readings.Any(r => r.Test == TroubleCodes && !r.Withdrawn && EF.Functions.Like(r.ValueJson, quoted, Escape)
                    && !o.Readings.Any(later => later.SupersedesId == r.Id)))
                || EF.Functions.Like(
                    SearchText.Key(o.Findings.OrderByDescending(f => f.Sequence).Select(f => f.Causes).FirstOrDefault() ?? ""), keys, Escape)));
#pragma warning restore CA1305
    }

    [GeneratedRegex("^[pcbu][0-9a-f]{1,4}$", RegexOptions.CultureInvariant)]
    private static partial Regex CodeStart();

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
