using Microsoft.EntityFrameworkCore;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.People;
using ShopDiag.Storage.Rows;

namespace ShopDiag.Storage.Writing;

/// <summary>What a command works with: the writer's context, the time of its transaction, and whom to tell.</summary>
/// <param name="db">The context; saved by the queue after the command.</param>
/// <param name="now">UTC.</param>
/// <param name="actor">Who asked.</param>
internal sealed class WriteScope(ShopDb db, DateTime now, Actor actor)
{
    // Nearly every command asks these two; working out their SQL anew each time took a fifth of its time.
    private static readonly Func<ShopDb, Guid, Task<OrderRow?>> OrderById = EF.CompileAsyncQuery((ShopDb shop, Guid id) =>
        shop.Orders.Include(o => o.Customer).Include(o => o.Vehicle).SingleOrDefault(o => o.Id == id));

    private static readonly Func<ShopDb, Guid, Task<AppliedCommandRow?>> AppliedById = EF.CompileAsyncQuery((ShopDb shop, Guid id) =>
        shop.AppliedCommands.AsNoTracking().SingleOrDefault(c => c.Id == id));

    private readonly HashSet<Guid> _changed = [];

    /// <summary>The context; saved by the queue after the command.</summary>
    public ShopDb Db => db;

    /// <summary>Who asked for the write.</summary>
    public Actor Actor => actor;

    /// <summary>The name for the records: the person's own, whatever the caller says; see <see cref="Actor.Signs"/>.</summary>
    public string Who(string by) => actor.Signs(PlainText.Line(by));

    /// <summary>The time of the write, UTC.</summary>
    public DateTime Now => now;

    /// <summary>The orders that listeners are told of after the commit.</summary>
    public IReadOnlyCollection<Guid> ChangedOrders => _changed;

    /// <summary>Says that an order has changed.</summary>
    public void Changed(Guid order) => _changed.Add(order);

    /// <summary>The order with its customer and vehicle, ready to be changed, or null.</summary>
    public Task<OrderRow?> OrderAsync(Guid id) => OrderById(db, id);

    /// <summary>
    /// What to answer instead of doing it: the same command has had its effect already, or its id belongs to another change.
    /// Null when the command is new.
    /// </summary>
    public async Task<SaveResult?> RepeatedAsync(Command command, string current)
    {
        var applied = await AppliedById(db, command.Id).ConfigureAwait(false);
        if (applied is null)
        {
            return null;
        }

        return applied.OrderId == command.Order && applied.What == command.What
            ? new(SaveOutcome.AlreadySaved, current)
            : new(SaveOutcome.Refused, current, "This change carries the id of another change. Nothing was saved; make the change again.");
    }

    /// <summary>Notes, in the same transaction as its effect, that a command has had it, and enters it in the record of the order.</summary>
    /// <param name="command">The command.</param>
    /// <param name="before">What stood there; null where that says nothing or is personal.</param>
    /// <param name="after">What stands there now; null likewise.</param>
    public void Applied(Command command, string? before = null, string? after = null)
    {
        db.AppliedCommands.Add(new() { Id = command.Id, OrderId = command.Order, What = command.What, By = command.By, At = now });
        Record(command.Order, command.By, command.What, command.Id, before, after);
        Changed(command.Order);
    }

    /// <summary>Enters in the record of an order what was done to it without a command: a reading, a photo.</summary>
    public void Record(Guid order, string by, string what, Guid? command = null, string? before = null, string? after = null)
    {
        var row = AuditRow.Of(actor, now, actor.Signs(by), what, before, after);
        (row.OrderId, row.CommandId) = (order, command);
        db.Audit.Add(row);
    }

    /// <summary>Enters in the record of the shop what was done to it.</summary>
    public void Record(string what, string? before = null, string? after = null) => db.Audit.Add(AuditRow.Of(actor, now, actor.Name, what, before, after));
}

/// <summary>A change that somebody asked for.</summary>
/// <param name="Id">Made by the client before the first try.</param>
/// <param name="Order">The order it is for.</param>
/// <param name="What">What it does, such as <c>set VehiclePlate</c>.</param>
/// <param name="By">Who asked, or empty.</param>
internal sealed record Command(Guid Id, Guid Order, string What, string By);
