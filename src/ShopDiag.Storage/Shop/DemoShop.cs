using System.Collections.Immutable;
using Microsoft.EntityFrameworkCore;
using ShopDiag.Comebacks.Repairs;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Wire;
using ShopDiag.Storage.Learning;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Rows;
using ShopDiag.Storage.Writing;

namespace ShopDiag.Storage.Shop;

/// <summary>Puts the demo shop into an empty database, its orders set around the present time.</summary>
internal sealed class DemoShop
{
    private readonly DemoSeed _seed;
    private readonly DateTime _now;
    private readonly ImmutableDictionary<Guid, SeedVehicle> _vehicles;
    private readonly ImmutableDictionary<Guid, Customer> _customers;
    private readonly ImmutableDictionary<int, Guid> _orderIds;

    private DemoShop(DemoSeed seed, DateTime now)
    {
        (_seed, _now) = (seed, now);
        _vehicles = seed.Vehicles.ToImmutableDictionary(v => v.Vehicle.Id);
        _customers = seed.Customers.ToImmutableDictionary(c => c.Id);
        _orderIds = seed.Orders.ToImmutableDictionary(o => o.Number, o => o.Id);
    }

    /// <summary>Loads it; throws <see cref="InvalidOperationException"/> when a shop is there already.</summary>
    public static async Task<int> LoadAsync(WriteScope write)
    {
        if (await write.Db.Settings.AnyAsync().ConfigureAwait(false) || await write.Db.Orders.AnyAsync().ConfigureAwait(false))
        {
            throw new InvalidOperationException("This data folder holds a shop already. The demo shop goes into an empty one only.");
        }

        return new DemoShop(DemoSeed.Read(), write.Now).Load(write);
    }

    private int Load(WriteScope write)
    {
        write.Db.Add((_seed.Shop with { IsDemo = true }).ToRow());
        write.Db.AddRange(_seed.Customers.Select(c => c.ToRow()));
        write.Db.AddRange(_seed.Vehicles.Select(v => v.Vehicle.ToRow(v.CustomerId)));
        write.Db.AddRange(_seed.Prices.Select(PriceRow.Of));
        var estimates = new DemoEstimates(_seed.Shop, new(_seed.Prices));
        var orders = _seed.Orders.Select(o => (Seed: o, Order: Order(o))).ToArray();
        foreach (var (seed, order) in orders)
        {
            write.Db.Add(order.ToRow(write.Now));
            estimates.Add(write, order, seed);
            write.Db.AddRange(ProvenDiagnoses.Of(order.Id, order.Finding, order.Vehicle.Engine));
            write.Changed(order.Id);
        }

        write.Db.Audit.AddRange(orders.SelectMany(Record).OrderBy(a => a.At));
        return orders.Length;
    }

    /// <summary>What the record of an order says: the same that its moves, readings and finding say.</summary>
    private static IEnumerable<AuditRow> Record((SeedOrder Seed, RepairOrder Order) one)
    {
        var order = one.Order;
        foreach (var (move, index) in order.Moves.Select((m, i) => (m, i)))
        {
            yield return Row(move.At, move.By, index == 0 ? "open order" : $"move to {move.Stage}", index == 0 ? null : move.Reason.Length > 0 ? $"{move.Stage}: {move.Reason}" : $"{move.Stage}");
        }

        foreach (var reading in order.Readings)
        {
            yield return Row(
                reading.Reading.TakenAt!.Value.UtcDateTime, reading.Reading.By ?? "",
                reading.Withdrawn ? "take reading back" : reading.SupersedesId is null ? "add reading" : "correct reading", $"{reading.Reading.Test}, {reading.Reading.At}");
        }

        if (order.Finding is { } finding)
        {
            yield return Row(finding.At, finding.By, "set finding", string.Join(", ", finding.Conclusion.Causes.Select(c => c.Cause)));
        }

        AuditRow Row(DateTime at, string by, string what, string? after) => new() { At = at, OrderId = order.Id, Who = by, What = what, After = after };
    }

    private RepairOrder Order(SeedOrder order)
    {
        var vehicle = _vehicles[order.VehicleId];
        return new RepairOrder
        {
            Id = order.Id,
            Number = order.Number,
            Stage = order.Moves[^1].Stage,
            Customer = _customers[vehicle.CustomerId],
            Vehicle = vehicle.Vehicle,
            ConcernText = order.ConcernText,
            Concern = order.Concern,
            Odometer = order.Odometer,
            OdometerUnit = order.OdometerUnit,
            PromisedAt = order.PromisedInHours is { } hours ? FullHour(_now.AddHours(hours)) : null,
            Technician = order.Technician,
            AuthorisedMinutes = order.AuthorisedMinutes,
            DiagnosisPriceMinor = order.DiagnosisPriceMinor,
            ComebackOf = order.ComebackOf is { } number ? _orderIds[number] : null,
            ComebackAnswer = order.ComebackOf is null ? ComebackAnswer.Undecided : ComebackAnswer.Yes,
            ComebackAnsweredBy = order.ComebackOf is null ? "" : order.Moves[0].By,
            ComebackAnsweredAt = order.ComebackOf is null ? null : Ago(order.Moves[0].HoursAgo),
            Readings = Readings(order, vehicle.Vehicle),
            Finding = order.Finding is { } finding ? Finding(finding) : null,
            Moves = [.. order.Moves.Select(m => new StageMove(m.Stage, Ago(m.HoursAgo), m.By, m.Reason))],
            CreatedAt = Ago(order.Moves[0].HoursAgo),
        };
    }

    private ImmutableArray<StoredReading> Readings(SeedOrder order, Vehicle vehicle)
    {
        if (order.Readings.IsEmpty)
        {
            return [];
        }

        var engine = Engine.Create(vehicle.Engine ?? throw Wrong(order, "has readings but no engine")).Value;
        return [.. order.Readings.Select((r, i) => Reading(order, engine, r, i))];
    }

    private StoredReading Reading(SeedOrder order, Engine engine, SeedReading seed, int index)
    {
        var remarks = new List<string>();
        var parsed = ReadingJson.Read(seed.Reading, engine, Knowledge.Shipped, remarks);
        if (!parsed.IsValid || remarks.Count > 0)
        {
            throw Wrong(order, $"readings[{index}] {parsed.Error}{string.Join(" ", remarks)}");
        }

        return new StoredReading
        {
            Id = ReadingId(order.Number, index),
            Sequence = index + 1,
            Reading = parsed.Value with { TakenAt = Ago(seed.HoursAgo), Supersedes = null },
            SupersedesId = parsed.Value.Supersedes is { } corrected ? ReadingId(order.Number, corrected) : null,
            Withdrawn = seed.Withdrawn,
        };
    }

    private OrderFinding Finding(SeedFinding finding) => new()
    {
        Conclusion = finding.Conclusion,
        Probability = finding.Probability,
        UnprovenReason = finding.UnprovenReason,
        At = Ago(finding.HoursAgo),
        By = finding.By,
    };

    private DateTime Ago(double hours) => _now.AddHours(-hours);

    /// <summary>Promises are made for full hours.</summary>
    private static DateTime FullHour(DateTime time) => new(time.Ticks - (time.Ticks % TimeSpan.TicksPerHour), DateTimeKind.Utc);

    /// <summary>The same ids in every demo shop, so that links into it can be written down.</summary>
    private static Guid ReadingId(int order, int index) => Guid.Parse($"00000000-0000-4000-8001-{order:D8}{index + 1:D4}");

    private static InvalidOperationException Wrong(SeedOrder order, string what) => new($"The demo shop's order {order.Number} {what}.");
}
