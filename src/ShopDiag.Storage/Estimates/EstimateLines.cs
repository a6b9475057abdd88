using System.Collections.Immutable;
using Microsoft.EntityFrameworkCore;
using ShopDiag.Diagnosis;
using ShopDiag.Estimates;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Rows;
using ShopDiag.Storage.Shop;
using ShopDiag.Storage.Writing;

namespace ShopDiag.Storage.Estimates;

/// <summary>An estimate inside a command: its lines read, changed and put back, parts kept in step.</summary>
internal static class EstimateLines
{
    /// <summary>The order's lines.</summary>
    public static async Task<ImmutableArray<EstimateLine>> OfAsync(WriteScope write, Guid order) =>
        (await RowAsync(write, order).ConfigureAwait(false))?.Lines() ?? [];

    /// <summary>Puts the lines in place of those before, with shop supplies worked out anew, and brings the parts in step.</summary>
    public static async Task PutAsync(WriteScope write, Guid order, ImmutableArray<EstimateLine> lines, ShopPricing pricing, string by)
    {
        var row = await RowAsync(write, order).ConfigureAwait(false);
        if (row is null)
        {
            row = new EstimateRow { OrderId = order };
            write.Db.Estimates.Add(row);
        }

        var settled = EstimateDraft.WithSupplies(lines, pricing);
        row.Put(settled, write.Now);
        await KeepPartsAsync(write, order, settled, by).ConfigureAwait(false);
    }

    /// <summary>Makes the lines that the finding asks for and merges them with those on the order. Without finding or engine only what a person entered stays.</summary>
    public static async Task RedraftAsync(WriteScope write, OrderRow order, OrderFinding? finding, string by)
    {
        var settings = await SettingsAsync(write).ConfigureAwait(false);
        var before = await OfAsync(write, order.Id).ConfigureAwait(false);
        var prices = await PricesAsync(write).ConfigureAwait(false);
        var drafted = Draft(order.ToRecord(), finding, settings, prices);
        if (!before.IsEmpty || !drafted.IsEmpty)
        {
            await PutAsync(write, order.Id, EstimateDraft.Merge(before, drafted, settings.Pricing), settings.Pricing, by).ConfigureAwait(false);
        }
    }

    /// <summary>The lines that a finding asks for.</summary>
    public static ImmutableArray<EstimateLine> Draft(RepairOrder order, OrderFinding? finding, ShopSettings settings, PriceList prices)
    {
        if (finding is null || order.ToWorkup(settings.ToSetup()) is not { } workup)
        {
            return [];
        }

        var source = new DraftSource
        {
            Order = order.Id,
            Engine = workup.Engine,
            Car = $"{order.Vehicle.Year} {order.Vehicle.Description} {order.Vehicle.EngineTitle}",
            Causes = finding.Conclusion.Causes,
            Unproven = finding.UnprovenReason is not null,
            DiagnosisMinor = order.DiagnosisPriceMinor,
            LabourPerHourMinor = settings.LabourPerHourMinor,
        };
        return EstimateDraft.Of(source, Knowledge.Shipped, prices, settings.Pricing);
    }

    /// <summary>The settings inside a command.</summary>
    public static async Task<ShopSettings> SettingsAsync(WriteScope write) =>
        (await write.Db.Settings.AsNoTracking().SingleOrDefaultAsync().ConfigureAwait(false))?.ToRecord() ?? new ShopSettings();

    /// <summary>Brings the parts in step with the lines and what was approved of them.</summary>
    public static async Task KeepPartsAsync(WriteScope write, Guid order, ImmutableArray<EstimateLine> lines, string by)
    {
        await write.Db.Approvals.Where(a => a.OrderId == order).LoadAsync().ConfigureAwait(false);
        var approvals = write.Db.Approvals.Local.Where(a => a.OrderId == order).OrderBy(a => a.Sequence).Select(a => a.ToRecord());
        await write.Db.Parts.Where(p => p.OrderId == order).LoadAsync().ConfigureAwait(false);
        var parts = write.Db.Parts.Local.Where(p => p.OrderId == order).ToList();
        var change = PartsFromLines.Of(lines, ApprovalState.Of(lines, approvals), [.. parts.Select(p => p.ToRecord())]);
        var dropped = change.Dropped.Select(p => p.Id).ToHashSet();
        write.Db.Parts.RemoveRange(parts.Where(p => dropped.Contains(p.Id)));
        var sequence = parts.Select(p => p.Sequence).DefaultIfEmpty(0).Max();
        foreach (var (line, quantity) in change.Wanted)
        {
            sequence++;
            write.Db.Parts.Add(PartRow.Wanted(LineKeys.Of(line.Id, $"part {sequence}"), order, sequence, line, quantity, write.Now, by));
        }
    }

    // Tracked, and found among what the same transaction has not written yet.
    private static async Task<EstimateRow?> RowAsync(WriteScope write, Guid order) => await write.Db.Estimates.FindAsync(order).ConfigureAwait(false);

    private static async Task<PriceList> PricesAsync(WriteScope write) =>
        new((await write.Db.Prices.AsNoTracking().ToListAsync().ConfigureAwait(false)).Select(p => p.ToRecord()));
}
