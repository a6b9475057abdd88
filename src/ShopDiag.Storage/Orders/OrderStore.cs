using System.Collections.Immutable;
using Microsoft.EntityFrameworkCore;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Storage.People;
using ShopDiag.Storage.Rows;
using ShopDiag.Storage.Writing;

namespace ShopDiag.Storage.Orders;

/// <summary>Orders in and out of the database. Every write is a command with an id made by the client: repeating it is harmless.</summary>
public sealed class OrderStore
{
    private readonly OrderReader _reader;
    private readonly ShopWriter _writer;

    internal OrderStore(IDbContextFactory<ShopDb> contexts, ShopWriter writer) => (_reader, _writer) = (new(contexts), writer);

    /// <summary>Opens an order with an empty customer and vehicle. The same id again returns the same order.</summary>
    public async Task<RepairOrder> OpenAsync(Guid id, string by, CancellationToken cancel = default)
    {
        ClientMade(id, nameof(id));
        ArgumentNullException.ThrowIfNull(by);
        await _writer.RunAsync(Permission.WorkOnOrders, w => OrderOpening.OpenAsync(w, id, _writer.Who(by)), cancel).ConfigureAwait(false);
        return (await GetAsync(id, cancel).ConfigureAwait(false))!;
    }

    /// <summary>The order, or null.</summary>
    public Task<RepairOrder?> GetAsync(Guid id, CancellationToken cancel = default) => _reader.OneAsync(o => o.Id == id, cancel);

    /// <summary>The order with a number on paper, or null.</summary>
    public Task<RepairOrder?> GetByNumberAsync(int number, CancellationToken cancel = default) => _reader.OneAsync(o => o.Number == number, cancel);

    /// <summary>What is in the building, oldest promise first, orders without a promise last by age.</summary>
    public Task<ImmutableArray<OrderSummary>> OpenOrdersAsync(CancellationToken cancel = default) => _reader.OpenAsync(cancel);

    /// <summary>
    /// Orders whose number, plate, name, VIN, code or cause holds the text; newest first, at most 50. Case, accents and (in plates and
    /// VINs) blanks and hyphens do not count. Empty for an empty text.
    /// </summary>
    public Task<ImmutableArray<OrderSummary>> FindAsync(string text, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(text);
        return _reader.FindAsync(text, cancel);
    }

    /// <summary>Vehicles already known whose plate or VIN equals the text (case and blanks do not count), with their customer; empty for an empty text.</summary>
    public Task<ImmutableArray<(Vehicle Vehicle, Customer Customer)>> KnownVehiclesAsync(string plateOrVin, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(plateOrVin);
        return _reader.KnownAsync(plateOrVin, cancel);
    }

    /// <summary>
    /// Puts a known vehicle and its customer on an order in place of the ones being written up, which are forgotten when no other order has them.
    /// <see cref="SaveResult.Current"/> is the vehicle's key.
    /// </summary>
    public Task<SaveResult> UseVehicleAsync(Guid orderId, Guid vehicleId, Guid commandId, CancellationToken cancel = default)
    {
        var command = new Command(ClientMade(commandId, nameof(commandId)), orderId, "use vehicle", _writer.Who(""));
        return _writer.SaveAsync(Permission.WorkOnOrders, w => VehicleCommands.UseAsync(w, command, vehicleId), cancel);
    }

    /// <summary>
    /// Saves one field. <paramref name="baseValue"/> is what the client saw before typing; when the database holds neither that nor the new
    /// value, it is a conflict. Null skips the check. <see cref="SaveResult.Current"/> is the text as kept, without the blanks around it: do not
    /// put it back into a field that is still being typed in.
    /// </summary>
    public Task<SaveResult> SetFieldAsync(Guid orderId, OrderField field, string value, string? baseValue, Guid commandId, string by, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(value);
        ArgumentNullException.ThrowIfNull(by);
        var rule = OrderFields.Of(field);
        var command = new Command(ClientMade(commandId, nameof(commandId)), orderId, $"set {field}", _writer.Who(by));
        return _writer.SaveAsync(OrderFields.Needs(field), w => FieldCommand.SetAsync(w, command, rule, value, baseValue, OrderFields.IsPersonal(field)), cancel);
    }

    /// <summary>Puts an engine on the order's vehicle. <see cref="SaveResult.Current"/> is the engine in words.</summary>
    public Task<SaveResult> SetEngineAsync(Guid orderId, EngineSpec engine, string title, Guid commandId, string by, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(engine);
        ArgumentNullException.ThrowIfNull(title);
        ArgumentNullException.ThrowIfNull(by);
        var command = new Command(ClientMade(commandId, nameof(commandId)), orderId, "set engine", _writer.Who(by));
        return _writer.SaveAsync(Permission.WorkOnOrders, w => VehicleCommands.SetEngineAsync(w, command, engine, PlainText.Line(title)), cancel);
    }

    /// <summary>
    /// Appends a reading. The same id again is harmless; a reading that supersedes one already superseded is kept as a further trial and
    /// said so in the message. <see cref="SaveResult.Current"/> is the reading's running number.
    /// </summary>
    public Task<SaveResult> AddReadingAsync(Guid orderId, NewReading reading, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(reading);
        ClientMade(reading.Id, nameof(reading));
        return _writer.SaveAsync(Permission.WorkOnOrders, w => ReadingCommand.AddAsync(w, orderId, reading), cancel);
    }

    /// <summary>
    /// Notes that a test cannot be taken on the order's car. The same id again is harmless; said anew of the same test and place, it takes the place of what was said before. A reading of the
    /// test at that place, or anywhere for one that holds for the whole car, ends it.
    /// </summary>
    public Task<SaveResult> AddObstacleAsync(Guid orderId, NewObstacle obstacle, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(obstacle);
        ClientMade(obstacle.Id, nameof(obstacle));
        return _writer.SaveAsync(Permission.WorkOnOrders, w => ObstacleCommands.AddAsync(w, orderId, obstacle), cancel);
    }

    /// <summary>Notes that a test can be taken after all. What was said before stays on record, as ended.</summary>
    public Task<SaveResult> EndObstacleAsync(Guid orderId, Guid obstacleId, Guid commandId, string by, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(by);
        ClientMade(commandId, nameof(commandId));
        return _writer.SaveAsync(Permission.WorkOnOrders, w => ObstacleCommands.EndAsync(w, orderId, obstacleId, commandId, by), cancel);
    }

    /// <summary>Takes over a finding; null takes it back. <see cref="SaveResult.Current"/> holds the ids of its causes.</summary>
    public Task<SaveResult> SetFindingAsync(Guid orderId, OrderFinding? finding, Guid commandId, CancellationToken cancel = default)
    {
        if (finding is { At.Kind: not DateTimeKind.Utc })
        {
            throw new ArgumentException("The time of a finding is UTC.", nameof(finding));
        }

        var command = new Command(ClientMade(commandId, nameof(commandId)), orderId, "set finding", _writer.Who(finding?.By ?? ""));
        return _writer.SaveAsync(Permission.WorkOnOrders, w => ProgressCommands.SetFindingAsync(w, command, finding is null ? null : finding with { By = command.By }), cancel);
    }

    /// <summary>Moves the order to a stage. A step back needs a reason. <see cref="SaveResult.Current"/> is the stage's name.</summary>
    public Task<SaveResult> MoveAsync(Guid orderId, OrderStage stage, string by, string reason, Guid commandId, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(by);
        ArgumentNullException.ThrowIfNull(reason);
        var command = new Command(ClientMade(commandId, nameof(commandId)), orderId, $"move to {stage}", _writer.Who(by));
        return _writer.SaveAsync(Permission.WorkOnOrders, w => ProgressCommands.MoveAsync(w, command, stage, PlainText.Lines(reason)), cancel);
    }

    /// <summary>An id that every forgetful client would send means nothing; the second of them would be taken for a repetition.</summary>
    private static Guid ClientMade(Guid id, string name) => id == Guid.Empty
        ? throw new ArgumentException("Make an id for each change.", name)
        : id;
}
