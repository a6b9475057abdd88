using System.Collections.Immutable;
using System.Globalization;
using System.Linq.Expressions;
using Microsoft.EntityFrameworkCore;
using ShopDiag.Estimates;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.People;
using ShopDiag.Storage.Rows;
using ShopDiag.Storage.Writing;

namespace ShopDiag.Storage.Estimates;

/// <summary>A field of a part that saves itself.</summary>
public enum PartField
{
    /// <summary>Who sells it.</summary>
    Vendor,

    /// <summary>Who makes it.</summary>
    Maker,

    /// <summary>The maker's number.</summary>
    PartNumber,

    /// <summary>A day as yyyy-MM-dd, or empty.</summary>
    ExpectedOn,
}

/// <summary>A part with the order that waits for it.</summary>
/// <param name="Part">The part.</param>
/// <param name="OrderNumber">The number on paper.</param>
/// <param name="Plate">The car's plate.</param>
/// <param name="Car">The car in words.</param>
/// <param name="PromisedAt">Promised for, UTC, or null.</param>
public sealed record AwaitedPart(PartOnOrder Part, int OrderNumber, string Plate, string Car, DateTime? PromisedAt);

/// <summary>Parts on their way to cars. They come into being with an approval and are read with the order.</summary>
public sealed class PartStore
{
    private const int MostLetters = 200;
    private const string MovedMeanwhile = "Somebody has moved this part meanwhile. Look at where it is now. Nothing was saved.";
    private readonly IDbContextFactory<ShopDb> _contexts;
    private readonly ShopWriter _writer;

    internal PartStore(IDbContextFactory<ShopDb> contexts, ShopWriter writer) => (_contexts, _writer) = (contexts, writer);

    /// <summary>What is missing: parts wanted or ordered for cars in the building, oldest promise first.</summary>
    public Task<ImmutableArray<AwaitedPart>> MissingAsync(CancellationToken cancel = default) => ListAsync([PartState.Wanted, PartState.Ordered], cancel);

    /// <summary>The parts with these keys wherever they are by now, in no order: what a page shows that was just fitted or sent back.</summary>
    public async Task<ImmutableArray<AwaitedPart>> GetAsync(IReadOnlyCollection<Guid> ids, CancellationToken cancel = default) =>
        ids.Count == 0 ? [] : await ListAsync(p => ids.Contains(p.Id), cancel).ConfigureAwait(false);

    /// <summary>Parts in the shop that wait to be fitted.</summary>
    public Task<ImmutableArray<AwaitedPart>> ReceivedAsync(CancellationToken cancel = default) => ListAsync([PartState.Received], cancel);

    /// <summary>
    /// Moves some pieces of a part; the others stay where they were as a part of their own. <see cref="SaveResult.Current"/> is the state.
    /// A step back is a step like any other and stays on record.
    /// </summary>
    /// <param name="partId">The part.</param>
    /// <param name="state">Where it goes.</param>
    /// <param name="quantity">How many pieces, from 1.</param>
    /// <param name="commandId">Made by the client.</param>
    /// <param name="by">Who.</param>
    /// <param name="from">Where it was on the screen: a conflict when somebody has moved it meanwhile. Null leaves out the check.</param>
    /// <param name="cancel">Gives up waiting.</param>
    public Task<SaveResult> MoveAsync(Guid partId, PartState state, int quantity, Guid commandId, string by, PartState? from = null, CancellationToken cancel = default) =>
        RunAsync(partId, $"part to {state}", commandId, by, async (write, row, command) =>
        {
            if (row.State == state)
            {
                return new(SaveOutcome.AlreadySaved, state.ToString());
            }

            if (from is not null && row.State != from)
            {
                return new(SaveOutcome.Conflict, row.State.ToString(), MovedMeanwhile);
            }

            if (quantity < 1 || quantity > row.Quantity)
            {
                return new(SaveOutcome.Refused, row.State.ToString(), $"From 1 to {row.Quantity} pieces. Nothing was saved.");
            }

            if (quantity < row.Quantity)
            {
                await SplitAsync(write, row, quantity, command).ConfigureAwait(false);
            }

            row.Move(state, write.Now, command.By);
            return new(SaveOutcome.Saved, state.ToString());
        }, cancel);

    /// <summary>
    /// Takes back a step made with <see cref="MoveAsync"/>: the pieces go where they came from and are one with those that stayed there, unless something has
    /// happened to these since. A conflict when the part has been moved on. <see cref="SaveResult.Current"/> is the state.
    /// </summary>
    /// <param name="partId">The part.</param>
    /// <param name="moved">The id of the command that is taken back.</param>
    /// <param name="from">Where that command took it.</param>
    /// <param name="commandId">Made by the client.</param>
    /// <param name="by">Who.</param>
    /// <param name="cancel">Gives up waiting.</param>
    public Task<SaveResult> TakeBackAsync(Guid partId, Guid moved, PartState from, Guid commandId, string by, CancellationToken cancel = default) =>
        RunAsync(partId, $"take back {moved} of part", commandId, by, async (write, row, command) =>
        {
            var moves = row.ToRecord().Moves;
            if (row.State != from || moves.Length < 2)
            {
                return new(SaveOutcome.Conflict, row.State.ToString(), MovedMeanwhile);
            }

            var back = moves[^2].State;
            var rest = await write.Db.Parts.FindAsync(LineKeys.Of(moved, "rest")).ConfigureAwait(false);
            if (rest is not null && rest.OrderId == row.OrderId && rest.LineId == row.LineId && rest.State == back && SameGoods(rest, row))
            {
                row.Quantity += rest.Quantity;
                write.Db.Parts.Remove(rest);
            }

            row.Move(back, write.Now, command.By);
            return new(SaveOutcome.Saved, back.ToString());
        }, cancel);

    /// <summary>Says whether the old part went back for its deposit.</summary>
    public Task<SaveResult> SetCoreBackAsync(Guid partId, bool back, Guid commandId, string by, CancellationToken cancel = default) =>
        RunAsync(partId, "old part back", commandId, by, (_, row, _) =>
        {
            row.CoreBack = back;
            return Task.FromResult(new SaveResult(SaveOutcome.Saved, back ? "yes" : "no"));
        }, cancel);

    /// <summary>Saves a field of a part.</summary>
    public Task<SaveResult> SetFieldAsync(Guid partId, PartField field, string text, string? baseText, Guid commandId, string by, CancellationToken cancel = default) =>
        RunAsync(partId, $"set {field} of part", commandId, by, (_, row, _) =>
        {
            var (current, typed) = (Show(row.ToRecord(), field), PlainText.Line(text));
            if (typed == current)
            {
                return Task.FromResult(new SaveResult(SaveOutcome.Saved, current));
            }

            if (typed.Length > MostLetters)
            {
                return Task.FromResult(new SaveResult(SaveOutcome.Refused, current, $"At most {MostLetters} letters."));
            }

            if (baseText is not null && PlainText.Line(baseText) != current)
            {
                return Task.FromResult(new SaveResult(SaveOutcome.Conflict, current, $"Somebody else changed this meanwhile. It now says “{current}”; “{typed}” was not saved."));
            }

            return Task.FromResult(Put(row, field, typed)
                ? new SaveResult(SaveOutcome.Saved, typed)
                : new SaveResult(SaveOutcome.Refused, current, "A day such as 2026-03-05, or nothing."));
        }, cancel);

    /// <summary>The text that stands for a field.</summary>
    public static string Show(PartOnOrder part, PartField field)
    {
        ArgumentNullException.ThrowIfNull(part);
        return field switch
        {
            PartField.Vendor => part.Vendor,
            PartField.Maker => part.Maker,
            PartField.PartNumber => part.PartNumber,
            PartField.ExpectedOn => part.ExpectedOn?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture) ?? "",
            _ => throw new ArgumentOutOfRangeException(nameof(field), field, "No such field."),
        };
    }

    private static bool SameGoods(PartRow one, PartRow other) =>
        (one.Vendor, one.Maker, one.PartNumber, one.ExpectedOn, one.CoreBack) == (other.Vendor, other.Maker, other.PartNumber, other.ExpectedOn, other.CoreBack);

    private static bool Put(PartRow row, PartField field, string typed)
    {
        switch (field)
        {
            case PartField.Vendor:
                row.Vendor = typed;
                return true;
            case PartField.Maker:
                row.Maker = typed;
                return true;
            case PartField.PartNumber:
                row.PartNumber = typed;
                return true;
            case PartField.ExpectedOn when typed.Length == 0:
                row.ExpectedOn = null;
                return true;
            case PartField.ExpectedOn when DateOnly.TryParseExact(typed, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day):
                row.ExpectedOn = day;
                return true;
            default:
                return false;
        }
    }

    // The pieces that stay keep the history up to here as a part of their own.
    private static async Task SplitAsync(WriteScope write, PartRow row, int moved, Command command)
    {
        var last = await write.Db.Parts.Where(p => p.OrderId == row.OrderId).MaxAsync(p => p.Sequence).ConfigureAwait(false);
        write.Db.Parts.Add(new PartRow
        {
            Id = LineKeys.Of(command.Id, "rest"),
            OrderId = row.OrderId,
            LineId = row.LineId,
            Sequence = last + 1,
            Text = row.Text,
            Position = row.Position,
            MustMatch = row.MustMatch,
            Together = row.Together,
            Quantity = row.Quantity - moved,
            State = row.State,
            Vendor = row.Vendor,
            Maker = row.Maker,
            PartNumber = row.PartNumber,
            ExpectedOn = row.ExpectedOn,
            CoreMinor = row.CoreMinor,
            CoreBack = row.CoreBack,
            Unproven = row.Unproven,
            MovesJson = row.MovesJson,
        });
        row.Quantity = moved;
    }

    private Task<ImmutableArray<AwaitedPart>> ListAsync(PartState[] states, CancellationToken cancel) =>
        ListAsync(p => states.Contains(p.State) && p.Order!.Stage != OrderStage.HandedOver && p.Order.Stage != OrderStage.MadeByMistake, cancel);

    private async Task<ImmutableArray<AwaitedPart>> ListAsync(Expression<Func<PartRow, bool>> which, CancellationToken cancel)
    {
        var db = _contexts.CreateDbContext();
        await using (db.ConfigureAwait(false))
        {
            var rows = await db.Parts.AsNoTracking().Include(p => p.Order!.Vehicle)
                .Where(which)
                .OrderBy(p => p.Order!.PromisedAt == null).ThenBy(p => p.Order!.PromisedAt).ThenBy(p => p.Order!.Number).ThenBy(p => p.Sequence)
                .ToListAsync(cancel).ConfigureAwait(false);
            return [.. rows.Select(p => new AwaitedPart(p.ToRecord(), p.Order!.Number, p.Order.Vehicle!.Plate, p.Order.Vehicle.Description, p.Order.PromisedAt))];
        }
    }

    private Task<SaveResult> RunAsync(Guid partId, string what, Guid commandId, string by, Func<WriteScope, PartRow, Command, Task<SaveResult>> act, CancellationToken cancel) => _writer.SaveAsync(
        Permission.WorkOnOrders,
        async write =>
        {
            if (await write.Db.Parts.SingleOrDefaultAsync(p => p.Id == partId).ConfigureAwait(false) is not { } row)
            {
                return new SaveResult(SaveOutcome.Refused, "", "This part is no longer on the order. Nothing was saved.");
            }

            var command = new Command(commandId, row.OrderId, $"{what} {partId}", write.Who(by));
            if (await write.RepeatedAsync(command, "").ConfigureAwait(false) is { } repeated)
            {
                return repeated;
            }

            var answer = await act(write, row, command).ConfigureAwait(false);
            if (answer.Outcome == SaveOutcome.Saved)
            {
                write.Applied(command, after: $"{row.Text}: {answer.Current}");
            }

            return answer;
        },
        cancel);
}
