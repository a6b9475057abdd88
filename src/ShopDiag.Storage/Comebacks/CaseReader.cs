using System.Collections.Immutable;
using Microsoft.EntityFrameworkCore;
using ShopDiag.Comebacks.Repairs;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Learning;
using ShopDiag.Diagnosis.NextStep;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Estimates;
using ShopDiag.Storage.Json;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Rows;

namespace ShopDiag.Storage.Comebacks;

/// <summary>
/// Makes cases of orders: one query a table, nothing tracked, put together here. What was found counts as repaired once the work began: the order went to the repair,
/// a part was fitted, or a reading was taken after it.
/// </summary>
/// <param name="db">A context of its own.</param>
/// <param name="zone">The shop's time zone.</param>
/// <param name="vehicle">Only the orders of this vehicle; null for all.</param>
internal sealed class CaseReader(ShopDb db, TimeZoneInfo zone, Guid? vehicle)
{
    private readonly Dictionary<string, (Engine? Engine, string Family)> _engines = [];
    private Dictionary<Guid, CaseFinding> _findings = [];
    private Dictionary<Guid, DateTime> _handedOver = [];
    private HashSet<Guid> _worked = [];
    private HashSet<Guid> _checked = [];
    private ILookup<Guid, FittedPart> _parts = Enumerable.Empty<FittedPart>().ToLookup(_ => Guid.Empty);
    private ILookup<Guid, (string Test, Place At)> _readings = Enumerable.Empty<(string, Place)>().ToLookup(_ => Guid.Empty);
    private long _labourPerHour;

    private IQueryable<OrderRow> Orders => vehicle is { } one ? db.Orders.AsNoTracking().Where(o => o.VehicleId == one) : db.Orders.AsNoTracking();

    /// <summary>The cases, by number.</summary>
    public async Task<ImmutableArray<RepairCase>> ReadAsync(CancellationToken cancel)
    {
        _labourPerHour = await db.Settings.AsNoTracking().Select(s => s.LabourPerHourMinor).FirstOrDefaultAsync(cancel).ConfigureAwait(false);
        var orders = await OrdersAsync(cancel).ConfigureAwait(false);
        await FindingsAsync(cancel).ConfigureAwait(false);
        await MovesAsync(cancel).ConfigureAwait(false);
        await PartsAsync(cancel).ConfigureAwait(false);
        await ReadingsAsync(cancel).ConfigureAwait(false);
        var later = LaterVisits(orders);
        return [.. orders.Select(o => Case(o, later.TryGetValue(o.Id, out var seen) ? seen : null))];
    }

    private async Task<List<CaseOrder>> OrdersAsync(CancellationToken cancel) =>
        await Orders.OrderBy(o => o.Number).Select(o => new CaseOrder
        {
            Id = o.Id,
            Number = o.Number,
            VehicleId = o.VehicleId,
            Stage = o.Stage,
            CreatedAt = o.CreatedAt,
            Odometer = o.Odometer,
            OdometerUnit = o.OdometerUnit,
            Codes = o.ConcernCodes,
            When = o.ConcernWhen,
            ConcernText = o.ConcernText,
            Technician = o.Technician,
            AuthorisedMinutes = o.AuthorisedMinutes,
            DiagnosisPriceMinor = o.DiagnosisPriceMinor,
            MinutesSpent = o.MinutesSpent,
            ComebackOf = o.ComebackOf,
            Answer = o.ComebackAnswer,
            EngineJson = o.Vehicle!.EngineJson,
        }).ToListAsync(cancel).ConfigureAwait(false);

    /// <summary>Of each finding only the causes and whether it was proven: whole conclusions would be most of the work.</summary>
    private async Task FindingsAsync(CancellationToken cancel)
    {
        var rows = await db.Database.SqlQuery<FindingLine>($"""
            SELECT f.OrderId, json_extract(f.FindingJson, '$.conclusion.causes') AS Causes, json_extract(f.FindingJson, '$.unprovenReason') AS Unproven
            FROM Findings f
            JOIN Orders o ON o.Id = f.OrderId
            WHERE f.FindingJson IS NOT NULL AND ({vehicle} IS NULL OR o.VehicleId = {vehicle})
              AND NOT EXISTS (SELECT 1 FROM Findings later WHERE later.OrderId = f.OrderId AND later.Sequence > f.Sequence)
            """).ToListAsync(cancel).ConfigureAwait(false);
        _findings = rows.ToDictionary(
            f => f.OrderId,
            f => new CaseFinding([.. StorageJson.Read<ImmutableArray<ProvenCause>>(f.Causes).Select(c => new RepairedCause(c.Cause, c.At)).Distinct()], f.Unproven is null));
    }

    private async Task MovesAsync(CancellationToken cancel)
    {
        var moves = await Orders.SelectMany(o => o.Moves).Where(m => m.Stage == OrderStage.HandedOver || m.Stage == OrderStage.InRepair || m.Stage == OrderStage.RepairCheck)
            .Select(m => new { m.OrderId, m.Stage, m.At }).ToListAsync(cancel).ConfigureAwait(false);
        _handedOver = moves.Where(m => m.Stage == OrderStage.HandedOver).GroupBy(m => m.OrderId).ToDictionary(g => g.Key, g => g.Max(m => m.At));
        _worked = [.. moves.Where(m => m.Stage != OrderStage.HandedOver).Select(m => m.OrderId)];
    }

    private async Task PartsAsync(CancellationToken cancel)
    {
        var parts = await Orders.SelectMany(o => o.Parts).Where(p => p.State == PartState.Fitted).OrderBy(p => p.Sequence)
            .Select(p => new { p.OrderId, p.Text, p.Maker, p.Vendor, p.Unproven }).ToListAsync(cancel).ConfigureAwait(false);
        _parts = parts.ToLookup(p => p.OrderId, p => new FittedPart(p.Text, p.Maker, p.Vendor, p.Unproven));
        _worked.UnionWith(parts.Select(p => p.OrderId));
    }

    private async Task ReadingsAsync(CancellationToken cancel)
    {
        var all = Orders.SelectMany(o => o.Readings).Where(r => !r.Withdrawn && !db.Readings.Any(later => later.SupersedesId == r.Id));
        _checked = [.. await all.Where(r => r.Stage == Stage.After).Select(r => r.OrderId).Distinct().ToListAsync(cancel).ConfigureAwait(false)];
        _worked.UnionWith(_checked);
        var before = await all.Where(r => r.Stage == Stage.Before).OrderBy(r => r.Sequence)
            .Select(r => new { r.OrderId, r.Test, r.PlaceKind, r.PlaceFirst, r.PlaceSecond }).ToListAsync(cancel).ConfigureAwait(false);
        _readings = before.ToLookup(r => r.OrderId, r => (r.Test, PlaceColumns.Read(r.PlaceKind, r.PlaceFirst, r.PlaceSecond)));
    }

    private RepairCase Case(CaseOrder order, VehicleVisit? seen)
    {
        var finding = _findings.GetValueOrDefault(order.Id);
        var repaired = finding is not null && _worked.Contains(order.Id) ? finding.Repaired : [];
        var (engine, family) = EngineOf(order.EngineJson);
        return new()
        {
            OrderId = order.Id,
            Number = order.Number,
            VehicleId = order.VehicleId,
            CameInOn = CaseRows.Day(order.CreatedAt, zone),
            HandedOverOn = order.Stage == OrderStage.HandedOver && _handedOver.TryGetValue(order.Id, out var at) ? CaseRows.Day(at, zone) : null,
            OdometerKm = order.Kilometres,
            Repaired = repaired,
            Codes = OrderMap.Words(order.Codes),
            When = OrderMap.Words(order.When),
            ConcernText = order.ConcernText,
            Technician = order.Technician,
            EngineFamily = family,
            Parts = [.. _parts[order.Id]],
            ProofGiven = finding?.Proven,
            RepairChecked = repaired.IsEmpty ? null : _checked.Contains(order.Id),
            MinutesToProof = finding is { Proven: true } && engine is not null && _readings[order.Id].Any() ? BenchMinutes.Of(engine, _readings[order.Id], Knowledge.Shipped) : null,
            MinutesAuthorised = order.AuthorisedMinutes == 0 ? null : order.AuthorisedMinutes,
            MinutesBilled = Billed(order),
            MinutesSpent = order.MinutesSpent,
            ComebackOf = order.ComebackOf,
            Answer = order.Answer,
            LastSeen = seen,
        };
    }

    /// <summary>The diagnosis in minutes of the labour rate, once the car is handed over: time spent is kept of the diagnosis only.</summary>
    private int? Billed(CaseOrder order) => order is { Stage: OrderStage.HandedOver, DiagnosisPriceMinor: { } price } && _labourPerHour > 0
        ? (int)Math.Min(int.MaxValue, Math.Round(60m * price / _labourPerHour, MidpointRounding.AwayFromZero))
        : null;

    private (Engine? Engine, string Family) EngineOf(string? json)
    {
        if (json is null)
        {
            return (null, "");
        }

        if (!_engines.TryGetValue(json, out var known))
        {
            var spec = StorageJson.Read<EngineSpec>(json);
            _engines[json] = known = (Engine.Create(spec) is { IsValid: true } made ? made.Value : null, EngineFamily.Of(spec).Id);
        }

        return known;
    }

    /// <summary>The last visit of each order's vehicle after it; the last order of a vehicle has none.</summary>
    private Dictionary<Guid, VehicleVisit> LaterVisits(List<CaseOrder> orders)
    {
        var visits = new Dictionary<Guid, VehicleVisit>();
        foreach (var car in orders.GroupBy(o => o.VehicleId))
        {
            var last = car.Last();
            foreach (var order in car.Where(o => o.Number < last.Number))
            {
                visits[order.Id] = new(CaseRows.Day(last.CreatedAt, zone), last.Kilometres);
            }
        }

        return visits;
    }

    private sealed record FindingLine
    {
        public required Guid OrderId { get; init; }

        public required string Causes { get; init; }

        public string? Unproven { get; init; }
    }
}
