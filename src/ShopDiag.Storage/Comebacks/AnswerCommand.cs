using Microsoft.EntityFrameworkCore;
using ShopDiag.Comebacks.Repairs;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Writing;

namespace ShopDiag.Storage.Comebacks;

/// <summary>Keeps what a person said about an order that may be a comeback.</summary>
internal static class AnswerCommand
{
    public static async Task<SaveResult> RunAsync(WriteScope write, Command command, Guid? earlier, ComebackAnswer answer)
    {
        if (await write.OrderAsync(command.Order).ConfigureAwait(false) is not { } order)
        {
            return Answers.NoSuchOrder;
        }

        var current = order.ComebackAnswer.ToString();
        if (await write.RepeatedAsync(command, current).ConfigureAwait(false) is { } repeated)
        {
            return repeated;
        }

        if (answer == ComebackAnswer.Yes && !await IsEarlierAsync(write, order.Id, order.VehicleId, order.Number, earlier).ConfigureAwait(false))
        {
            return new(SaveOutcome.Refused, current, "Say of which earlier order on the same vehicle it is a comeback. Nothing was saved.");
        }

        // The earlier order says whether the car came back: a page of it that is open must not keep the old answer.
        foreach (var other in new[] { order.ComebackOf, earlier }.OfType<Guid>())
        {
            write.Changed(other);
        }

        (order.ComebackAnswer, order.ComebackOf) = (answer, answer == ComebackAnswer.Yes ? earlier : null);
        (order.ComebackAnsweredBy, order.ComebackAnsweredAt) = answer == ComebackAnswer.Undecided ? ("", default(DateTime?)) : (command.By, write.Now);
        write.Applied(command, current, answer.ToString());
        return new(SaveOutcome.Saved, answer.ToString());
    }

    // By number and not by time: numbers are given in the order of writing up, and no clock can be set back between them.
    private static Task<bool> IsEarlierAsync(WriteScope write, Guid order, Guid vehicle, int number, Guid? earlier) =>
        write.Db.Orders.AnyAsync(o => o.Id == earlier && o.Id != order && o.VehicleId == vehicle && o.Number < number);
}
