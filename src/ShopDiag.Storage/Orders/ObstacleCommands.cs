using Microsoft.EntityFrameworkCore;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Storage.Rows;
using ShopDiag.Storage.Writing;

namespace ShopDiag.Storage.Orders;

/// <summary>Notes on an order that a test cannot be taken, and that it can be after all.</summary>
internal static class ObstacleCommands
{
    /// <summary>Notes it unless it is there already. Said anew of the same test and place, it takes the place of what was said before.</summary>
    public static async Task<SaveResult> AddAsync(WriteScope write, Guid orderId, NewObstacle added)
    {
        if (await write.OrderAsync(orderId).ConfigureAwait(false) is not { } order)
        {
            return Answers.NoSuchOrder;
        }

        if (await write.Db.Obstacles.AsNoTracking().SingleOrDefaultAsync(o => o.Id == added.Id).ConfigureAwait(false) is { } known)
        {
            return known.OrderId == orderId ? new(SaveOutcome.AlreadySaved, "") : Refused("This carries the id of an entry on another order. Nothing was saved; say it again.");
        }

        var obstacle = new Obstacle(PlainText.Line(added.Obstacle.Test), added.Obstacle.At) { Why = PlainText.Line(added.Obstacle.Why) };
        if (Refusal(order, obstacle) is { } refusal)
        {
            return Refused(refusal);
        }

        var by = write.Who(added.By);
        await EndAsync(write, Standing(write, orderId, obstacle.Test).Where(o => o.PlaceKind == obstacle.At.Kind && o.PlaceFirst == obstacle.At.First && o.PlaceSecond == obstacle.At.Second), by, added.Id)
            .ConfigureAwait(false);
        write.Db.Obstacles.Add(ObstacleMap.ToRow(new() { Id = added.Id, Obstacle = obstacle, By = by, SaidAt = write.Now }, orderId));
        write.Record(orderId, by, "add obstacle", added.Id, after: Said(obstacle.Test, obstacle.At));
        write.Changed(orderId);
        return new(SaveOutcome.Saved, "");
    }

    /// <summary>Notes that the test can be taken after all. One that has ended already stays as it ended.</summary>
    public static async Task<SaveResult> EndAsync(WriteScope write, Guid orderId, Guid obstacleId, Guid commandId, string by)
    {
        var known = write.Db.Obstacles.Where(o => o.Id == obstacleId && o.OrderId == orderId);
        if (await known.Select(o => new { o.EndedAt }).SingleOrDefaultAsync().ConfigureAwait(false) is not { } found)
        {
            return Refused("That it cannot be taken is not on this order. Nothing was saved.");
        }

        if (found.EndedAt is not null)
        {
            return new(SaveOutcome.AlreadySaved, "");
        }

        await EndAsync(write, known, write.Who(by), commandId).ConfigureAwait(false);
        write.Changed(orderId);
        return new(SaveOutcome.Saved, "");
    }

    /// <summary>A reading was taken: whatever is said to keep the test from being taken there, or anywhere, no longer holds. True when there was any.</summary>
    public static Task<bool> ReadAsync(WriteScope write, Guid orderId, string test, Place at, string by, Guid reading) => EndAsync(
        write,
        Standing(write, orderId, test).Where(o => o.PlaceKind == PlaceKind.Engine || (o.PlaceKind == at.Kind && o.PlaceFirst == at.First && o.PlaceSecond == at.Second)),
        by,
        reading);

    private static IQueryable<ObstacleRow> Standing(WriteScope write, Guid orderId, string test) =>
        write.Db.Obstacles.Where(o => o.OrderId == orderId && o.Test == test && o.EndedAt == null);

    private static async Task<bool> EndAsync(WriteScope write, IQueryable<ObstacleRow> which, string by, Guid command)
    {
        var rows = await which.OrderBy(o => o.SaidAt).ThenBy(o => o.Id).ToListAsync().ConfigureAwait(false);
        foreach (var row in rows)
        {
            (row.EndedBy, row.EndedAt) = (by, write.Now);
            write.Record(row.OrderId, by, "end obstacle", command, after: Said(row.Test, PlaceColumns.Read(row.PlaceKind, row.PlaceFirst, row.PlaceSecond)));
        }

        return rows.Count > 0;
    }

    private static string? Refusal(OrderRow order, Obstacle obstacle) => obstacle switch
    {
        { Test: "" } => "Say which test cannot be taken. Nothing was saved.",
        { Why.Length: > StoredObstacle.LongestWhy } => $"Why it cannot be taken fits in {StoredObstacle.LongestWhy} letters; these are {obstacle.Why.Length}. Nothing was saved.",
        _ => EngineFit.Misfit(order.Vehicle!, obstacle.At),
    };

    private static string Said(string test, Place at) => $"{test}, {at}";

    private static SaveResult Refused(string message) => new(SaveOutcome.Refused, "", message);
}
