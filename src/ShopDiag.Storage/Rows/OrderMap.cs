using System.Collections.Immutable;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Storage.Json;
using ShopDiag.Storage.Orders;

namespace ShopDiag.Storage.Rows;

/// <summary>Orders, customers and vehicles: row to record and record to row.</summary>
internal static class OrderMap
{
    public static Customer ToRecord(this CustomerRow row) => new()
    {
        Id = row.Id, Name = row.Name, Phone = row.Phone, Email = row.Email,
    };

    public static CustomerRow ToRow(this Customer customer) => new()
    {
        Id = customer.Id, Name = customer.Name, Phone = customer.Phone, Email = customer.Email,
    };

    public static Vehicle ToRecord(this VehicleRow row) => new()
    {
        Id = row.Id,
        Plate = row.Plate,
        Vin = row.Vin,
        Description = row.Description,
        Year = row.Year,
        Engine = row.EngineJson is { } json ? StorageJson.Read<EngineSpec>(json) : null,
        EngineTitle = row.EngineTitle,
    };

    public static VehicleRow ToRow(this Vehicle vehicle, Guid customerId) => new()
    {
        Id = vehicle.Id,
        CustomerId = customerId,
        Plate = vehicle.Plate,
        Vin = vehicle.Vin,
        Description = vehicle.Description,
        Year = vehicle.Year,
        EngineJson = vehicle.Engine is { } engine ? StorageJson.Write(engine) : null,
        EngineTitle = vehicle.EngineTitle,
    };

    /// <summary>The order with what has been loaded of it; customer and vehicle must have been.</summary>
    public static RepairOrder ToRecord(this OrderRow row) => new()
    {
        Id = row.Id,
        Number = row.Number,
        Stage = row.Stage,
        Customer = row.Customer!.ToRecord(),
        Vehicle = row.Vehicle!.ToRecord(),
        ConcernText = row.ConcernText,
        Concern = new Concern { Codes = Words(row.ConcernCodes), Lamp = row.ConcernLamp, When = Words(row.ConcernWhen) },
        Odometer = row.Odometer,
        OdometerUnit = row.OdometerUnit,
        PromisedAt = row.PromisedAt,
        Technician = row.Technician,
        AuthorisedMinutes = row.AuthorisedMinutes,
        DiagnosisPriceMinor = row.DiagnosisPriceMinor,
        ComebackOf = row.ComebackOf,
        ComebackAnswer = row.ComebackAnswer,
        ComebackAnsweredBy = row.ComebackAnsweredBy,
        ComebackAnsweredAt = row.ComebackAnsweredAt,
        Readings = row.Readings.ToRecords(),
        Obstacles = row.Obstacles.ToRecords(),
        Finding = row.Findings.MaxBy(f => f.Sequence)?.ToRecord(),
        Moves = [.. row.Moves.OrderBy(m => m.Sequence).Select(m => m.ToRecord())],
        MinutesSpent = row.MinutesSpent,
        WrittenConcern = row.WrittenConcern,
        WrittenCause = row.WrittenCause,
        WrittenCorrection = row.WrittenCorrection,
        CodesCleared = row.CodesCleared,
        MonitorsNoted = row.MonitorsNoted,
        Estimate = row.Estimate?.Lines() ?? [],
        Approvals = [.. row.Approvals.OrderBy(a => a.Sequence).Select(a => a.ToRecord())],
        Parts = [.. row.Parts.OrderBy(p => p.Sequence).Select(p => p.ToRecord())],
        CreatedAt = row.CreatedAt,
    };

    /// <summary>The order with its readings, tests that cannot be taken, finding and moves; its customer, vehicle, estimate, approvals and parts are rows of their own.</summary>
    public static OrderRow ToRow(this RepairOrder order, DateTime savedAt) => new()
    {
        Id = order.Id,
        Number = order.Number,
        Stage = order.Stage,
        CustomerId = order.Customer.Id,
        VehicleId = order.Vehicle.Id,
        ConcernText = order.ConcernText,
        ConcernCodes = List(order.Concern.Codes),
        ConcernLamp = order.Concern.Lamp,
        ConcernWhen = List(order.Concern.When),
        Odometer = order.Odometer,
        OdometerUnit = order.OdometerUnit,
        PromisedAt = order.PromisedAt,
        Technician = order.Technician,
        AuthorisedMinutes = order.AuthorisedMinutes,
        DiagnosisPriceMinor = order.DiagnosisPriceMinor,
        ComebackOf = order.ComebackOf,
        ComebackAnswer = order.ComebackAnswer,
        ComebackAnsweredBy = order.ComebackAnsweredBy,
        ComebackAnsweredAt = order.ComebackAnsweredAt,
        Readings = [.. order.Readings.Select(r => r.ToRow(order.Id, savedAt))],
        Obstacles = [.. order.Obstacles.Select(o => ObstacleMap.ToRow(o, order.Id))],
        Findings = order.Finding is { } finding ? [FindingMap.ToRow(finding, order.Id, 1, savedAt)] : [],
        Moves = [.. order.Moves.Select((m, i) => m.ToRow(order.Id, i + 1))],
        MinutesSpent = order.MinutesSpent,
        WrittenConcern = order.WrittenConcern,
        WrittenCause = order.WrittenCause,
        WrittenCorrection = order.WrittenCorrection,
        CodesCleared = order.CodesCleared,
        MonitorsNoted = order.MonitorsNoted,
        CreatedAt = order.CreatedAt,
    };

    /// <summary>Words out of a list column.</summary>
    public static ImmutableArray<string> Words(string column) => column.Length == 0 ? [] : [.. column.Split(',')];

    /// <summary>Words into a list column; none of them holds a comma.</summary>
    public static string List(ImmutableArray<string> words) => string.Join(',', words);
}
