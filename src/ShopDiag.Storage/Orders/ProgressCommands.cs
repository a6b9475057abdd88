using Microsoft.EntityFrameworkCore;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Storage.Estimates;
using ShopDiag.Storage.Learning;
using ShopDiag.Storage.People;
using ShopDiag.Storage.Rows;
using ShopDiag.Storage.Shop;
using ShopDiag.Storage.Writing;

namespace ShopDiag.Storage.Orders;

/// <summary>Takes an order on its way: the finding, the stage.</summary>
internal static class ProgressCommands
{
    /// <summary>Takes over a finding, or takes it back.</summary>
    public static async Task<SaveResult> SetFindingAsync(WriteScope write, Command command, OrderFinding? finding)
    {
        if (await write.OrderAsync(command.Order).ConfigureAwait(false) is not { } order)
        {
            return Answers.NoSuchOrder;
        }

        var newest = await write.Db.Findings.AsNoTracking().Where(f => f.OrderId == command.Order)
            .OrderByDescending(f => f.Sequence).FirstOrDefaultAsync().ConfigureAwait(false);
        if (await write.RepeatedAsync(command, newest?.Causes ?? "").ConfigureAwait(false) is { } repeated)
        {
            return repeated;
        }

        var row = FindingMap.ToRow(finding, command.Order, (newest?.Sequence ?? 0) + 1, write.Now);
        write.Db.Findings.Add(row);
        await ProvenDiagnoses.KeepAsync(write, order.Id, finding, order.Vehicle!.EngineJson).ConfigureAwait(false);
        await EstimateLines.RedraftAsync(write, order, finding, command.By).ConfigureAwait(false);
        write.Applied(command, newest?.Causes, row.Causes);
        return new(SaveOutcome.Saved, row.Causes);
    }

    /// <summary>Moves an order to a stage.</summary>
    public static async Task<SaveResult> MoveAsync(WriteScope write, Command command, OrderStage stage, string reason)
    {
        if (await write.OrderAsync(command.Order).ConfigureAwait(false) is not { } order)
        {
            return Answers.NoSuchOrder;
        }

        var current = order.Stage.ToString();
        if (await write.RepeatedAsync(command, current).ConfigureAwait(false) is { } repeated)
        {
            return repeated;
        }

        if (stage == order.Stage)
        {
            return new(SaveOutcome.AlreadySaved, current, "The order stands there already.");
        }

        var whole = await WholeAsync(write, order).ConfigureAwait(false);
        if (Needs(whole, stage) is { } needed && !write.Actor.May(needed))
        {
            return new(SaveOutcome.Refused, current, write.Actor.Refusal(needed));
        }

        if ((StepRules.Refuses(whole, stage) ?? (reason.Length == 0 ? StepRules.AsksReason(whole, stage, await CheckAsync(write, order, stage).ConfigureAwait(false)) : null)) is { } missing)
        {
            return new(SaveOutcome.Refused, current, $"{missing} Nothing was saved.");
        }

        var last = whole.Moves.Length;
        write.Db.Moves.Add(new StageMove(stage, write.Now, command.By, reason).ToRow(order.Id, last + 1));
        order.Stage = stage;
        if (whole.Stage == OrderStage.MadeByMistake || stage == OrderStage.MadeByMistake)
        {
            await ProvenDiagnoses.KeepAsync(write, order.Id, order.Vehicle!.EngineJson).ConfigureAwait(false);
        }

        write.Applied(command, current, reason.Length > 0 ? $"{stage}: {reason}" : stage.ToString());
        return new(SaveOutcome.Saved, stage.ToString());
    }

    // Worked out only where the step asks for it: other commands wait meanwhile.
    private static async Task<RepairCheck?> CheckAsync(WriteScope write, OrderRow order, OrderStage to)
    {
        if (to is not (OrderStage.Ready or OrderStage.HandedOver))
        {
            return null;
        }

        var settings = (await write.Db.Settings.AsNoTracking().SingleOrDefaultAsync().ConfigureAwait(false))?.ToRecord() ?? new ShopSettings();
        return OrderWorkup.From(order.ToRecord(), settings.ToSetup()) is { } workup ? RepairCheck.Of(workup, Knowledge.Shipped) : null;
    }

    private static Permission? Needs(RepairOrder order, OrderStage to) => (order.Stage, to) switch
    {
        (OrderStage.HandedOver, _) or (_, OrderStage.HandedOver) => Permission.HandOver,
        (OrderStage.MadeByMistake, _) or (_, OrderStage.MadeByMistake) => StepRules.NeedsForMistake(order),
        _ => null,
    };

    // The order as the rules of a step look at it.
    private static async Task<RepairOrder> WholeAsync(WriteScope write, OrderRow order)
    {
        var entry = write.Db.Entry(order);
        await entry.Collection(o => o.Readings).LoadAsync().ConfigureAwait(false);
        await entry.Collection(o => o.Obstacles).LoadAsync().ConfigureAwait(false);
        await entry.Collection(o => o.Moves).LoadAsync().ConfigureAwait(false);
        await entry.Collection(o => o.Findings).LoadAsync().ConfigureAwait(false);
        await entry.Collection(o => o.Approvals).LoadAsync().ConfigureAwait(false);
        await entry.Collection(o => o.Parts).LoadAsync().ConfigureAwait(false);
        await entry.Reference(o => o.Estimate).LoadAsync().ConfigureAwait(false);
        return order.ToRecord();
    }
}
