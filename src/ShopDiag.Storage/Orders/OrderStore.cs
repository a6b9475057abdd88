using System.Collections.Immutable;

namespace ShopDiag.Storage.Orders;

/// <summary>Orders in and out of the database. Every write is a command with an id made by the client: repeating it is harmless.</summary>
public sealed class OrderStore
{
    /// <summary>Opens an order with an empty customer and vehicle. The same id again returns the same order.</summary>
    public Task<RepairOrder> OpenAsync(Guid id, string by, CancellationToken cancel = default) => throw new NotImplementedException();

    /// <summary>The order, or null.</summary>
    public Task<RepairOrder?> GetAsync(Guid id, CancellationToken cancel = default) => throw new NotImplementedException();

    /// <summary>The order with a number on paper, or null.</summary>
    public Task<RepairOrder?> GetByNumberAsync(int number, CancellationToken cancel = default) => throw new NotImplementedException();

    /// <summary>What is in the building, oldest promise first, orders without a promise last by age.</summary>
    public Task<ImmutableArray<OrderSummary>> OpenOrdersAsync(CancellationToken cancel = default) => throw new NotImplementedException();

    /// <summary>Orders whose number, plate, name, VIN, code or cause holds the text; newest first, at most 50.</summary>
    public Task<ImmutableArray<OrderSummary>> FindAsync(string text, CancellationToken cancel = default) => throw new NotImplementedException();

    /// <summary>Vehicles already known whose plate or VIN equals the text (case and blanks do not count), with their customer; empty for an empty text.</summary>
    public Task<ImmutableArray<(Vehicle Vehicle, Customer Customer)>> KnownVehiclesAsync(string plateOrVin, CancellationToken cancel = default) => throw new NotImplementedException();

    /// <summary>Puts a known vehicle and its customer on an order in place of the ones being written up.</summary>
    public Task<SaveResult> UseVehicleAsync(Guid orderId, Guid vehicleId, Guid commandId, CancellationToken cancel = default) => throw new NotImplementedException();

    /// <summary>Saves one field. <paramref name="baseValue"/> is what the client saw before typing; when the database holds neither that nor the new value, it is a conflict. Null skips the check.</summary>
    public Task<SaveResult> SetFieldAsync(Guid orderId, OrderField field, string value, string? baseValue, Guid commandId, string by, CancellationToken cancel = default) => throw new NotImplementedException();

    /// <summary>Puts an engine on the order's vehicle.</summary>
    public Task<SaveResult> SetEngineAsync(Guid orderId, Diagnosis.Engines.EngineSpec engine, string title, Guid commandId, string by, CancellationToken cancel = default) => throw new NotImplementedException();

    /// <summary>Appends a reading. The same id again is harmless; a reading that supersedes one already superseded is kept as a further trial and said so in the message.</summary>
    public Task<SaveResult> AddReadingAsync(Guid orderId, NewReading reading, CancellationToken cancel = default) => throw new NotImplementedException();

    /// <summary>Takes over a finding; null takes it back.</summary>
    public Task<SaveResult> SetFindingAsync(Guid orderId, OrderFinding? finding, Guid commandId, CancellationToken cancel = default) => throw new NotImplementedException();

    /// <summary>Moves the order to a stage. A step back needs a reason.</summary>
    public Task<SaveResult> MoveAsync(Guid orderId, OrderStage stage, string by, string reason, Guid commandId, CancellationToken cancel = default) => throw new NotImplementedException();
}
