using System.Collections.Immutable;
using Microsoft.EntityFrameworkCore;
using ShopDiag.Comebacks.Figures;
using ShopDiag.Comebacks.Repairs;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.People;
using ShopDiag.Storage.Rows;
using ShopDiag.Storage.Writing;

namespace ShopDiag.Storage.Comebacks;

/// <summary>The shop's repairs as its figures count them, and what a person says about orders that look like comebacks.</summary>
public sealed class ComebackStore
{
    private readonly IDbContextFactory<ShopDb> _contexts;
    private readonly ShopWriter _writer;
    private readonly CaseShelf _shelf;

    internal ComebackStore(IDbContextFactory<ShopDb> contexts, ShopWriter writer, CaseShelf shelf) => (_contexts, _writer, _shelf) = (contexts, writer, shelf);

    /// <summary>
    /// All orders as cases, by number, without what each says of its trouble, which no figure asks for. One on which nobody has said whether it is a comeback, and that the window makes look like one, stands as
    /// <see cref="ComebackAnswer.Undecided"/> with the likeliest earlier order.
    /// </summary>
    /// <param name="zone">The shop's time zone: in it days begin and end.</param>
    /// <param name="window">Within which time and distance a comeback is proposed.</param>
    /// <param name="cancel">Gives up.</param>
    public Task<ImmutableArray<RepairCase>> CasesAsync(TimeZoneInfo zone, ComebackWindow window, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(zone);
        return _shelf.GetAsync(zone, window, cancel);
    }

    /// <summary>The orders of one vehicle as cases, by number, with what each says of its trouble; nothing proposed.</summary>
    public async Task<ImmutableArray<RepairCase>> OfVehicleAsync(Guid vehicle, TimeZoneInfo zone, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(zone);
        var db = _contexts.CreateDbContext();
        await using (db.ConfigureAwait(false))
        {
            var reader = new CaseReader(db, zone, await CaseReader.LabourPerHourAsync(db, cancel).ConfigureAwait(false));
            var cases = await reader.ReadAsync(CaseReader.OfOneVehicle, vehicle, cancel).ConfigureAwait(false);
            LaterVisits.Put(cases);
            return await Concerns.OnAsync(db, [.. cases], cancel).ConfigureAwait(false);
        }
    }

    /// <summary>The orders of cars in the building; the stage is its name in <see cref="OrderStage"/>.</summary>
    public async Task<ImmutableArray<OpenOrder>> OpenOrdersAsync(TimeZoneInfo zone, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(zone);
        var db = _contexts.CreateDbContext();
        await using (db.ConfigureAwait(false))
        {
            var open = await db.Orders.Where(o => OrderStages.Open.Contains(o.Stage)).OrderBy(o => o.Number)
                .Select(o => new { o.Id, o.Number, o.CreatedAt, o.Stage }).ToListAsync(cancel).ConfigureAwait(false);
            return [.. open.Select(o => new OpenOrder(o.Id, o.Number, CaseRows.Day(o.CreatedAt, zone), o.Stage.ToString()))];
        }
    }

    /// <summary>
    /// Says whether an order is a comeback; a person may change their mind. <see cref="ComebackAnswer.Yes"/> names the earlier order, which must be of the same
    /// vehicle; any other answer lets go of it. <see cref="SaveResult.Current"/> is the answer's name. The same command again is harmless.
    /// </summary>
    public Task<SaveResult> AnswerComebackAsync(Guid orderId, Guid? earlierOrder, ComebackAnswer answer, string by, Guid commandId, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(by);
        if (commandId == Guid.Empty)
        {
            throw new ArgumentException("Make an id for each change.", nameof(commandId));
        }

        var command = new Command(commandId, orderId, $"comeback {answer} {earlierOrder}", _writer.Who(by));
        return _writer.SaveAsync(Permission.AnswerComebacks, w => AnswerCommand.RunAsync(w, command, earlierOrder, answer), cancel);
    }
}
