using Microsoft.EntityFrameworkCore;
using ShopDiag.Diagnosis;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Rows;
using ShopDiag.Storage.Writing;

namespace ShopDiag.Storage.Photos;

/// <summary>What can be written about a photo as text.</summary>
internal enum PhotoField
{
    Caption,
    Marks,
}

/// <summary>Changes to photos, within the writer's transaction.</summary>
internal static class PhotoCommands
{
    private static readonly SaveResult Gone = new(SaveOutcome.Refused, "", "This photo is no longer there.");

    /// <summary>The answer when a photo's key is known already.</summary>
    public static SaveResult Known(Guid itsOrder, Guid order) => itsOrder == order
        ? new(SaveOutcome.AlreadySaved, "")
        : new(SaveOutcome.Refused, "", "This photo carries the key of a photo on another order. Nothing was saved.");

    public static async Task<SaveResult> AddAsync(WriteScope write, NewPhoto photo)
    {
        if (await write.OrderAsync(photo.OrderId).ConfigureAwait(false) is not { } order)
        {
            return Answers.NoSuchOrder;
        }

        if (await write.Db.Photos.AsNoTracking().SingleOrDefaultAsync(p => p.Id == photo.Id).ConfigureAwait(false) is { } known)
        {
            return Known(known.OrderId, photo.OrderId);
        }

        if (EngineFit.Misfit(order.Vehicle!, photo.At) is { } misfit)
        {
            return new(SaveOutcome.Refused, "", misfit);
        }

        if (await write.Db.Photos.CountAsync(p => p.OrderId == photo.OrderId).ConfigureAwait(false) >= PhotoStore.MostOnOrder)
        {
            return new(SaveOutcome.Refused, "", $"There are {PhotoStore.MostOnOrder} photos on this order. It takes no more.");
        }

        var by = write.Who(photo.By);
        write.Db.Photos.Add(PhotoRow.Of(photo with { By = by }, write.Now));
        write.Record(photo.OrderId, by, "add photo", photo.Id, after: $"{PlainText.Line(photo.Test)}, {photo.At}");
        write.Changed(photo.OrderId);
        return new(SaveOutcome.Saved, "");
    }

    /// <summary>Sets a text: checks for a repetition, then the text, then for a change by somebody else.</summary>
    public static async Task<SaveResult> SetAsync(WriteScope write, Guid id, PhotoField field, string typed, string? baseValue, Guid commandId, string by)
    {
        if (await FindAsync(write, id).ConfigureAwait(false) is not { } row)
        {
            return Gone;
        }

        var command = new Command(commandId, row.OrderId, $"photo {field}", by);
        var current = TextOf(row, field);
        if (await write.RepeatedAsync(command, current).ConfigureAwait(false) is { } repeated)
        {
            return repeated;
        }

        var read = Tidy(field, typed);
        if (!read.IsValid)
        {
            return new(SaveOutcome.Refused, current, read.Error!.Message);
        }

        if (current != read.Value && baseValue is not null && baseValue != current && !(Tidy(field, baseValue) is { IsValid: true } tidy && tidy.Value == current))
        {
            return new(SaveOutcome.Conflict, current, "Somebody else changed this meanwhile.");
        }

        Put(row, field, read.Value);
        if (field == PhotoField.Caption)
        {
            write.Applied(command, current, read.Value);
        }
        else
        {
            write.Applied(command);
        }

        return new(SaveOutcome.Saved, read.Value);
    }

    public static async Task<SaveResult> ChangeAsync(WriteScope write, Guid id, string what, Guid commandId, string by, Action<PhotoRow, DateTime> change)
    {
        if (await FindAsync(write, id).ConfigureAwait(false) is not { } row)
        {
            return Gone;
        }

        var command = new Command(commandId, row.OrderId, what, by);
        if (await write.RepeatedAsync(command, "").ConfigureAwait(false) is { } repeated)
        {
            return repeated;
        }

        change(row, write.Now);
        write.Applied(command);
        return new(SaveOutcome.Saved, "");
    }

    private static Task<PhotoRow?> FindAsync(WriteScope write, Guid id) => write.Db.Photos.SingleOrDefaultAsync(p => p.Id == id);

    private static string TextOf(PhotoRow row, PhotoField field) => field switch
    {
        PhotoField.Caption => row.Caption,
        PhotoField.Marks => row.MarksJson,
        _ => throw new InvalidOperationException($"Unknown field {field}."),
    };

    private static void Put(PhotoRow row, PhotoField field, string text)
    {
        if (field == PhotoField.Caption)
        {
            row.Caption = text;
        }
        else
        {
            row.MarksJson = text;
        }
    }

    private static Parsed<string> Tidy(PhotoField field, string text)
    {
        if (field == PhotoField.Marks)
        {
            var marks = PhotoMarks.Read(text);
            return marks.IsValid ? PhotoMarks.Write(marks.Value) : marks.Error!;
        }

        var caption = PlainText.Line(text);
        return caption.Length <= PhotoStore.LongestCaption ? caption : new InputError("", $"{PhotoStore.LongestCaption} characters at most.");
    }
}
