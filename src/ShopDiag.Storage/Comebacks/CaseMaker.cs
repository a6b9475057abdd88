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
using ShopDiag.Storage.Shop;

namespace ShopDiag.Storage.Comebacks;

/// <summary>
/// Makes cases of some orders: one query a table, nothing tracked, put together here. What was found counts as repaired once the work began: the order went to the
/// repair, a part was fitted, or a reading was taken after it.
/// </summary>
/// <param name="db">A context on which what has been changed is saved already.</param>
/// <param name="orders">The orders' keys.</param>
internal sealed class CaseMaker(ShopDb db, IReadOnlyCollection<Guid> orders)
{
    private readonly Dictionary<string, (Engine? Engine, string Family)> _engines = [];
    private Dictionary<Guid, CaseFinding> _findings = [];
    private Dictionary<Guid, DateTime> _handedOver = [];
    private HashSet<Guid> _worked = [];
    private HashSet<Guid> _checked = [];
    private ILookup<Guid, FittedPart> _parts = Enumerable.Empty<FittedPart>().ToLookup(_ => Guid.Empty);
    private ILookup<Guid, (string Test, Place At)> _readings = Enumerable.Empty<(string, Place)>().ToLookup(_ => Guid.Empty);

    /// <summary>Their cases, by number.</summary>
    public async Task<ImmutableArray<CaseRow>> MakeAsync(CancellationToken cancel)
    {
        var found = await OrdersAsync(cancel).ConfigureAwait(false);
        await FindingsAsync(cancel).ConfigureAwait(false);
        await MovesAsync(cancel).ConfigureAwait(false);
        if (_findings.Count > 0)
        {
            await PartsAsync(cancel).ConfigureAwait(false);
            await ReadingsAsync(cancel).ConfigureAwait(false);
        }

        return [.. found.Select(Case)];
    }

    // The keys go in as one parameter: a statement of its own for every number of orders would be worked out anew each time.
    private Task<List<CaseOrder>> OrdersAsync(CancellationToken cancel) =>
        db.Orders.Where(o => EF.Parameter(orders).Contains(o.Id)).OrderBy(o => o.Number).Select(o => new CaseOrder
        {
            Id = o.Id,
            Number = o.Number,
            VehicleId = o.VehicleId,
            Stage = o.Stage,
            CreatedAt = o.CreatedAt,
            Odometer = o.Odometer,
            OdometerUnit = o.OdometerUnit,
            Technician = o.Technician,
            AuthorisedMinutes = o.AuthorisedMinutes,
            DiagnosisPriceMinor = o.DiagnosisPriceMinor,
            MinutesSpent = o.MinutesSpent,
            ComebackOf = o.ComebackOf,
            Answer = o.ComebackAnswer,
            EngineJson = o.Vehicle!.EngineJson,
        }).ToListAsync(cancel);

    /// <summary>The newest finding of each, where it was not taken back.</summary>
    private async Task FindingsAsync(CancellationToken cancel)
    {
        var rows = await db.Findings.Where(f => EF.Parameter(orders).Contains(f.OrderId) && f.FindingJson != null
                && !db.Findings.Any(later => later.OrderId == f.OrderId && later.Sequence > f.Sequence))
            .Select(f => new { f.OrderId, f.FindingJson }).ToListAsync(cancel).ConfigureAwait(false);
        _findings = rows.ToDictionary(f => f.OrderId, f =>
        {
            var finding = StorageJson.Read<OrderFinding>(f.FindingJson!);
            return new CaseFinding([.. finding.Conclusion.Causes.Select(c => new RepairedCause(c.Cause, c.At)).Distinct()], finding.UnprovenReason is null);
        });
    }

    private async Task MovesAsync(CancellationToken cancel)
    {
        var moves = await db.Moves.Where(m => EF.Parameter(orders).Contains(m.OrderId)
                && (m.Stage == OrderStage.HandedOver || m.Stage == OrderStage.InRepair || m.Stage == OrderStage.RepairCheck))
            .Select(m => new { m.OrderId, m.Stage, m.At }).ToListAsync(cancel).ConfigureAwait(false);
        _handedOver = moves.Where(m => m.Stage == OrderStage.HandedOver).GroupBy(m => m.OrderId).ToDictionary(g => g.Key, g => g.Max(m => m.At));
        _worked = [.. moves.Where(m => m.Stage != OrderStage.HandedOver).Select(m => m.OrderId)];
    }

    private async Task PartsAsync(CancellationToken cancel)
    {
        // Which of them were fitted is looked at here: asked for in the statement, SQLite goes by the index of that, over every part ever fitted.
        var all = await db.Parts.Where(p => EF.Parameter(orders).Contains(p.OrderId)).OrderBy(p => p.Sequence)
            .Select(p => new { p.OrderId, p.State, p.Text, p.Maker, p.Vendor, p.Unproven }).ToListAsync(cancel).ConfigureAwait(false);
        var parts = all.FindAll(p => p.State == PartState.Fitted);
        _parts = parts.ToLookup(p => p.OrderId, p => new FittedPart(p.Text, p.Maker, p.Vendor, p.Unproven));
        _worked.UnionWith(parts.Select(p => p.OrderId));
    }

    private async Task ReadingsAsync(CancellationToken cancel)
    {
        var all = await db.Readings.Where(r => EF.Parameter(orders).Contains(r.OrderId) && !r.Withdrawn && !db.Readings.Any(later => later.SupersedesId == r.Id))
            .OrderBy(r => r.Sequence)
            .Select(r => new { r.OrderId, r.Stage, r.Test, r.PlaceKind, r.PlaceFirst, r.PlaceSecond }).ToListAsync(cancel).ConfigureAwait(false);
        HashSet<Guid> readAgain = [.. all.Where(r => r.Stage == Stage.After).Select(r => r.OrderId)];
        _worked.UnionWith(readAgain);
        _checked = await CheckedAsync([.. readAgain.Where(_findings.ContainsKey)], cancel).ConfigureAwait(false);
        _readings = all.Where(r => r.Stage == Stage.Before).ToLookup(r => r.OrderId, r => (r.Test, PlaceColumns.Read(r.PlaceKind, r.PlaceFirst, r.PlaceSecond)));
    }

    /// <summary>Those of some orders whose repair check came to an answer, good or not: a reading that proves nothing is no check.</summary>
    private async Task<HashSet<Guid>> CheckedAsync(Guid[] readAgain, CancellationToken cancel)
    {
        if (readAgain.Length == 0)
        {
            return [];
        }

        var setup = (await db.Settings.AsNoTracking().SingleOrDefaultAsync(cancel).ConfigureAwait(false) is { } settings ? settings.ToRecord() : new ShopSettings()).ToSetup();
        var rows = await db.Orders.AsNoTracking().Include(o => o.Customer).Include(o => o.Vehicle).Include(o => o.Readings).Include(o => o.Obstacles)
            .Where(o => EF.Parameter(readAgain).Contains(o.Id)).ToListAsync(cancel).ConfigureAwait(false);
        return [.. rows.Where(r => OrderWorkup.From(r.ToRecord(), setup) is { } workup && RepairCheck.Of(workup, Knowledge.Shipped).IsDone).Select(r => r.Id)];
    }

    private CaseRow Case(CaseOrder order)
    {
        if (order.Stage == OrderStage.MadeByMistake)
        {
            return new() { Number = order.Number, OrderId = order.Id, VehicleId = order.VehicleId };
        }

        var finding = _findings.GetValueOrDefault(order.Id);
        var repaired = finding is not null && _worked.Contains(order.Id) ? finding.Repaired : [];
        var (engine, family) = EngineOf(order.EngineJson);
        var kept = new KeptCase
        {
            OrderId = order.Id,
            VehicleId = order.VehicleId,
            CameIn = CaseRows.Seconds(order.CreatedAt),
            HandedOver = order.Stage == OrderStage.HandedOver && _handedOver.TryGetValue(order.Id, out var at) ? CaseRows.Seconds(at) : null,
            Kilometres = order.Kilometres,
            Repaired = repaired,
            Technician = order.Technician,
            EngineFamily = family,
            Parts = [.. _parts[order.Id]],
            ProofGiven = finding?.Proven,
            RepairChecked = repaired.IsEmpty ? null : _checked.Contains(order.Id),
            MinutesToProof = finding is { Proven: true } && engine is not null && _readings.Contains(order.Id) ? BenchMinutes.Of(engine, _readings[order.Id], Knowledge.Shipped) : null,
            MinutesAuthorised = order.AuthorisedMinutes == 0 ? null : order.AuthorisedMinutes,
            DiagnosisPriceMinor = order.DiagnosisPriceMinor,
            MinutesSpent = order.MinutesSpent,
            ComebackOf = order.ComebackOf,
            Answer = order.Answer,
        };
        return new() { Number = order.Number, OrderId = order.Id, VehicleId = order.VehicleId, Repaired = !repaired.IsEmpty, Line = CaseLine.Write(kept) };
    }

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

    private sealed record CaseOrder
    {
        public required Guid Id { get; init; }

        public required int Number { get; init; }

        public required Guid VehicleId { get; init; }

        public required OrderStage Stage { get; init; }

        public required DateTime CreatedAt { get; init; }

        public required int? Odometer { get; init; }

        public required string OdometerUnit { get; init; }

        public required string Technician { get; init; }

        public required int AuthorisedMinutes { get; init; }

        public required long? DiagnosisPriceMinor { get; init; }

        public required int? MinutesSpent { get; init; }

        public required Guid? ComebackOf { get; init; }

        public required ComebackAnswer Answer { get; init; }

        public required string? EngineJson { get; init; }

        /// <summary>Kilometres when it came in.</summary>
        public int? Kilometres => Odometer is { } read && OdometerUnit == "mi" ? (int)Math.Round(read * CaseRows.KilometresPerMile, MidpointRounding.AwayFromZero) : Odometer;
    }

    private sealed record CaseFinding(ImmutableArray<RepairedCause> Repaired, bool Proven);
}
