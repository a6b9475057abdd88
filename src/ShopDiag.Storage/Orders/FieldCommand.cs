using Microsoft.EntityFrameworkCore;
using ShopDiag.Storage.Rows;
using ShopDiag.Storage.Writing;

namespace ShopDiag.Storage.Orders;

/// <summary>Saves one field of an order.</summary>
internal static class FieldCommand
{
    /// <summary>Checks the text, then for a repetition, then for a change by somebody else; saves when none of them stands in the way.</summary>
    public static async Task<SaveResult> SetAsync(WriteScope write, Command command, FieldRule rule, string typed, string? baseValue, bool isPersonal)
    {
        if (await write.OrderAsync(command.Order).ConfigureAwait(false) is not { } order)
        {
            return Answers.NoSuchOrder;
        }

        var current = rule.Show(order.ToRecord());
        if (await write.RepeatedAsync(command, current).ConfigureAwait(false) is { } repeated)
        {
            return repeated;
        }

        var read = rule.Read(typed);
        if (!read.IsValid)
        {
            return new(SaveOutcome.Refused, current, read.Error!.Message);
        }

        if (current != read.Value && IsChangedSince(baseValue, current, rule))
        {
            return new(SaveOutcome.Conflict, current, $"Somebody else changed this meanwhile. It now says “{current}”; “{read.Value}” was not saved.");
        }

        rule.Put(order, read.Value);
        if (isPersonal)
        {
            write.Applied(command);
        }
        else
        {
            write.Applied(command, current, read.Value);
        }

        if (rule.IsShared)
        {
            await TellOrdersOfAsync(write, order).ConfigureAwait(false);
        }

        return new(SaveOutcome.Saved, read.Value);
    }

    /// <summary>The client may have seen its own typing before it was tidied, so the base value is tidied before it is compared.</summary>
    private static bool IsChangedSince(string? baseValue, string current, FieldRule rule) =>
        baseValue is not null && baseValue != current && !(rule.Read(baseValue) is { IsValid: true } tidy && tidy.Value == current);

    /// <summary>A customer or a vehicle may be on other orders too, and their pages show it as well.</summary>
    private static async Task TellOrdersOfAsync(WriteScope write, OrderRow order)
    {
        var touched = await write.Db.Orders.AsNoTracking()
            .Where(o => o.CustomerId == order.CustomerId || o.VehicleId == order.VehicleId)
            .Select(o => o.Id)
            .ToListAsync().ConfigureAwait(false);
        touched.ForEach(write.Changed);
    }
}
