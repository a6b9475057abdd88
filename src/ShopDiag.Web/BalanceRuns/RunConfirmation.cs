using System.Collections.Immutable;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Storage.Orders;
using ShopDiag.Web.Components.WorkupViews;
using ShopDiag.Web.Orders;

namespace ShopDiag.Web.BalanceRuns;

/// <summary>Puts the readings of a balance run on the order, through the tablet's journal like typed ones, and takes them back.</summary>
public static class RunConfirmation
{
    /// <summary>Puts them on the order; the first refusal ends it and is answered.</summary>
    public static async Task<SaveResult> ConfirmAsync(
        OrderLive live, OrderPageServices with, string source, ImmutableArray<CylinderTrials> trials, Stage stage, string note, bool replace)
    {
        ArgumentNullException.ThrowIfNull(live);
        ArgumentNullException.ThrowIfNull(with);
        var order = await with.Orders.GetAsync(live.Order.Id) ?? live.Order;
        var result = await RunAsync(order.Id, with, RunReadings.Commands(order, source, trials, stage, note, replace));
        // Whoever takes the first reading has begun to look for the cause.
        if (WorkupSession.IsSaved(result) && order.Stage == OrderStage.WrittenUp)
        {
            await live.MoveAsync(OrderStage.InDiagnosis, "");
        }

        return result;
    }

    /// <summary>Takes back what was confirmed and still counts.</summary>
    public static async Task<SaveResult> TakeBackAsync(OrderLive live, OrderPageServices with, string source, ImmutableArray<CylinderTrials> trials, Stage stage)
    {
        ArgumentNullException.ThrowIfNull(live);
        ArgumentNullException.ThrowIfNull(with);
        var order = await with.Orders.GetAsync(live.Order.Id) ?? live.Order;
        return await RunAsync(order.Id, with, RunReadings.TakeBack(order, source, trials, stage));
    }

    private static async Task<SaveResult> RunAsync(Guid order, OrderPageServices with, ImmutableArray<NewReading> readings)
    {
        var by = with.Tablet.By.Length > 0 ? with.Tablet.By : null;
        foreach (var reading in readings)
        {
            var taken = reading with { Reading = reading.Reading with { TakenAt = with.Time.GetUtcNow(), By = by } };
            var result = await with.Commands.RunAsync(SaveReading.Kind, taken.Id, CommandJson.Write(SaveReading.Of(order, taken)));
            if (!WorkupSession.IsSaved(result))
            {
                return result;
            }
        }

        return new(SaveOutcome.Saved, "");
    }
}
