using System.Globalization;
using Microsoft.EntityFrameworkCore;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Storage.Rows;
using ShopDiag.Storage.Writing;

namespace ShopDiag.Storage.Orders;

/// <summary>Appends a reading to an order.</summary>
internal static class ReadingCommand
{
    private const string NowPossible = "That it cannot be taken no longer holds.";

    /// <summary>
    /// Appends the reading unless it is there already; says so when the reading it corrects had been corrected before. A test that was read can be taken: what was said against that ends.
    /// </summary>
    public static async Task<SaveResult> AddAsync(WriteScope write, Guid orderId, NewReading added)
    {
        if (await write.OrderAsync(orderId).ConfigureAwait(false) is not { } order)
        {
            return Answers.NoSuchOrder;
        }

        if (await write.Db.Readings.AsNoTracking().SingleOrDefaultAsync(r => r.Id == added.Id).ConfigureAwait(false) is { } known)
        {
            return known.OrderId == orderId
                ? new(SaveOutcome.AlreadySaved, Shown(known.Sequence))
                : Refused("This reading carries the id of a reading on another order. Nothing was saved; take the reading again.");
        }

        if (await RefusalAsync(write, order, added).ConfigureAwait(false) is { } refusal)
        {
            return Refused(refusal);
        }

        var trial = added.SupersedesId is { } corrected
            && await write.Db.Readings.AnyAsync(r => r.SupersedesId == corrected).ConfigureAwait(false);
        var sequence = 1 + (await write.Db.Readings.Where(r => r.OrderId == orderId).MaxAsync(r => (int?)r.Sequence).ConfigureAwait(false) ?? 0);
        write.Db.Readings.Add(Stored(added, sequence, By(write, added)).ToRow(orderId, write.Now));
        write.Record(orderId, By(write, added) ?? "", Word(added), added.Id, after: $"{PlainText.Line(added.Reading.Test)}, {added.Reading.At}");
        var possible = !added.Withdrawn
            && await ObstacleCommands.ReadAsync(write, orderId, PlainText.Line(added.Reading.Test), added.Reading.At, By(write, added) ?? "", added.Id).ConfigureAwait(false);
        write.Changed(orderId);
        return new(SaveOutcome.Saved, Shown(sequence), trial ? FurtherTrial(added) : possible ? NowPossible : "");
    }

    private static async Task<string?> RefusalAsync(WriteScope write, OrderRow order, NewReading added)
    {
        if (added.Reading.Value.Fields.Values.Any(f => f.Numbers.Any(n => !double.IsFinite(n))))
        {
            return "A reading is made of numbers; one of these is none. Nothing was saved.";
        }

        if (EngineFit.Misfit(order.Vehicle!, added.Reading.At) is { } misfit)
        {
            return misfit;
        }

        if (added.SupersedesId is { } corrected)
        {
            return await write.Db.Readings.AnyAsync(r => r.Id == corrected && r.OrderId == order.Id).ConfigureAwait(false)
                ? null
                : "The reading that this one corrects is not on this order. Nothing was saved.";
        }

        return added.Withdrawn ? "To take a reading back, say which one. Nothing was saved." : null;
    }

    private static StoredReading Stored(NewReading added, int sequence, string? by) => new()
    {
        Id = added.Id,
        Sequence = sequence,
        Reading = added.Reading with
        {
            Test = PlainText.Line(added.Reading.Test),
            Value = Tidy(added.Reading.Value),
            By = by,
            Note = added.Reading.Note is { } note ? PlainText.Lines(note) : null,
        },
        SupersedesId = added.SupersedesId,
        Withdrawn = added.Withdrawn,
    };

    // A person's own name; without a person what the caller says, null staying null.
    private static string? By(WriteScope write, NewReading added) => write.Who(added.Reading.By ?? "") is { Length: > 0 } by ? by : null;

    private static string Word(NewReading added) => added switch
    {
        { Withdrawn: true } => "take reading back",
        { SupersedesId: not null } => "correct reading",
        _ => "add reading",
    };

    private static ReadingValue Tidy(ReadingValue value) => new(value.Fields.Select(f =>
        KeyValuePair.Create(f.Key, f.Value with { Texts = [.. f.Value.Texts.Select(PlainText.Lines)] })));

    private static string FurtherTrial(NewReading added) => added.Withdrawn
        ? "Somebody else had corrected this reading meanwhile. The correction still counts."
        : "Somebody else had corrected this reading meanwhile. Both corrections are kept, yours as a further trial.";

    private static string Shown(int sequence) => sequence.ToString(CultureInfo.InvariantCulture);

    private static SaveResult Refused(string message) => new(SaveOutcome.Refused, "", message);
}
