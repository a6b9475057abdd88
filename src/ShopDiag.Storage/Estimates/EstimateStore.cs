using System.Collections.Immutable;
using ShopDiag.Estimates;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.People;
using ShopDiag.Storage.Rows;
using ShopDiag.Storage.Writing;

namespace ShopDiag.Storage.Estimates;

/// <summary>Changes of estimates and what customers say to them. They are read with the order. Every write is a command with an id made by the client.</summary>
public sealed class EstimateStore
{
    private readonly ShopWriter _writer;

    internal EstimateStore(ShopWriter writer) => _writer = writer;

    /// <summary>Makes the lines that the finding asks for again; what a person entered or changed stays. Done by itself when a finding is taken over.</summary>
    public Task<SaveResult> DraftAsync(Guid orderId, Guid commandId, string by, CancellationToken cancel = default) =>
        RunAsync(Permission.EditEstimates, new(commandId, orderId, "draft estimate", _writer.Who(by)), async (write, command, order) =>
        {
            await EstimateLines.RedraftAsync(write, order, await FindingAsync(write, order.Id).ConfigureAwait(false), command.By).ConfigureAwait(false);
            return new(SaveOutcome.Saved, "");
        }, cancel);

    /// <summary>Adds an empty line.</summary>
    public Task<SaveResult> AddLineAsync(Guid orderId, Guid lineId, LineKind kind, Guid commandId, string by, CancellationToken cancel = default) =>
        LinesAsync(Permission.EditEstimates, new(commandId, orderId, $"add line {lineId}", _writer.Who(by)), (lines, settings, _, _) =>
        {
            var line = new EstimateLine { Id = lineId, Kind = kind, Edited = true, TaxBasisPoints = settings.Pricing.TaxOn(kind), PriceMinor = kind == LineKind.Labour && settings.LabourPerHourMinor > 0 ? settings.LabourPerHourMinor : null };
            return lines.Any(l => l.Id == lineId) ? (null, new(SaveOutcome.AlreadySaved, "")) : (lines.Add(line), new(SaveOutcome.Saved, ""));
        }, cancel);

    /// <summary>Saves a field of a line. <see cref="SaveResult.Current"/> is the text of the field (<see cref="LineFields"/>).</summary>
    /// <param name="orderId">The order.</param>
    /// <param name="lineId">The line.</param>
    /// <param name="field">The field.</param>
    /// <param name="text">What was typed.</param>
    /// <param name="baseText">What stood there when typing began; null leaves out the check for a change by somebody else.</param>
    /// <param name="commandId">Made by the client.</param>
    /// <param name="by">Who.</param>
    /// <param name="cancel">Gives up waiting.</param>
    public Task<SaveResult> SetLineAsync(Guid orderId, Guid lineId, LineField field, string text, string? baseText, Guid commandId, string by, CancellationToken cancel = default) =>
        LinesAsync(Permission.EditEstimates, new(commandId, orderId, $"set {field} of line {lineId}", _writer.Who(by)), (lines, settings, _, _) =>
        {
            if (lines.FirstOrDefault(l => l.Id == lineId) is not { } line)
            {
                return (null, NoSuchLine);
            }

            var current = LineFields.Show(line, field, settings.Currency);
            var changed = LineFields.Put(line, field, PlainText.Line(text), settings.Currency);
            if (!changed.IsValid)
            {
                return (null, new(SaveOutcome.Refused, current, changed.Error!.Message));
            }

            var wanted = LineFields.Show(changed.Value, field, settings.Currency);
            if (wanted == current)
            {
                return (null, new(SaveOutcome.Saved, current));
            }

            return baseText is not null && baseText != current && !(LineFields.Put(line, field, baseText, settings.Currency) is { IsValid: true } seen && LineFields.Show(seen.Value, field, settings.Currency) == current)
                ? (null, new(SaveOutcome.Conflict, current, $"Somebody else changed this meanwhile. It now says “{current}”; “{wanted}” was not saved."))
                : (lines.Replace(line, changed.Value with { Edited = true }), new(SaveOutcome.Saved, wanted));
        }, cancel);

    /// <summary>Takes a line off, or puts it back.</summary>
    public Task<SaveResult> SetRemovedAsync(Guid orderId, Guid lineId, bool removed, Guid commandId, string by, CancellationToken cancel = default) =>
        LinesAsync(Permission.EditEstimates, new(commandId, orderId, $"{(removed ? "take off" : "put back")} line {lineId}", _writer.Who(by)), (lines, _, _, _) =>
            lines.FirstOrDefault(l => l.Id == lineId) is { } line ? (lines.Replace(line, line with { Removed = removed }), new(SaveOutcome.Saved, "")) : (null, NoSuchLine), cancel);

    /// <summary>Lets the parts of unproven causes go on, with the reason that stays on record.</summary>
    public Task<SaveResult> GoAheadAsync(Guid orderId, string reason, Guid commandId, string by, CancellationToken cancel = default) =>
        LinesAsync(Permission.GoOnWithoutProof, new(commandId, orderId, "go ahead without proof", _writer.Who(by)), (lines, _, now, who) =>
        {
            var why = PlainText.Line(reason);
            if (why.Length < 3)
            {
                return (null, new(SaveOutcome.Refused, "", "Say why the parts go on without proof. Nothing was saved."));
            }

            return ([.. lines.Select(l => l.Held ? l with { GoAhead = new(why, who, now) } : l)], new(SaveOutcome.Saved, why));
        }, cancel);

    /// <summary>
    /// Keeps what was said to the estimate and has the approved parts wanted. <see cref="Approval.At"/> is set to now. Refused when a line does not come to
    /// what the customer was told any more, when nobody is named, when a signature cannot be one; a telephone approval names the number.
    /// </summary>
    public Task<SaveResult> ApproveAsync(Guid orderId, Approval approval, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(approval);
        return RunAsync(Permission.RecordApprovals, new(approval.Id, orderId, "approval", _writer.Who(approval.By)), (write, command, order) => ApprovalCommand.KeepAsync(write, order, approval with { By = command.By }), cancel);
    }

    private static SaveResult NoSuchLine { get; } = new(SaveOutcome.Refused, "", "There is no such line on the estimate any more. Nothing was saved.");

    private static async Task<OrderFinding?> FindingAsync(WriteScope write, Guid order)
    {
        var newest = await Microsoft.EntityFrameworkCore.EntityFrameworkQueryableExtensions.FirstOrDefaultAsync(
            write.Db.Findings.Where(f => f.OrderId == order).OrderByDescending(f => f.Sequence)).ConfigureAwait(false);
        return newest?.ToRecord();
    }

    private Task<SaveResult> LinesAsync(
        Permission needs, Command command, Func<ImmutableArray<EstimateLine>, Shop.ShopSettings, DateTime, string, (ImmutableArray<EstimateLine>? Lines, SaveResult Answer)> change, CancellationToken cancel) =>
        RunAsync(needs, command, async (write, c, order) =>
        {
            var settings = await EstimateLines.SettingsAsync(write).ConfigureAwait(false);
            var (lines, answer) = change(await EstimateLines.OfAsync(write, order.Id).ConfigureAwait(false), settings, write.Now, c.By);
            if (lines is { } changed)
            {
                await EstimateLines.PutAsync(write, order.Id, changed, settings.Pricing, c.By).ConfigureAwait(false);
            }

            return answer;
        }, cancel);

    private Task<SaveResult> RunAsync(Permission needs, Command command, Func<WriteScope, Command, OrderRow, Task<SaveResult>> act, CancellationToken cancel)
    {
        if (command.Id == Guid.Empty)
        {
            throw new ArgumentException("Make an id for each change.", nameof(command));
        }

        return _writer.SaveAsync(
            needs,
            async write =>
            {
                if (await write.OrderAsync(command.Order).ConfigureAwait(false) is not { } order)
                {
                    return Answers.NoSuchOrder;
                }

                if (await write.RepeatedAsync(command, "").ConfigureAwait(false) is { } repeated)
                {
                    return repeated;
                }

                var answer = await act(write, command, order).ConfigureAwait(false);
                if (answer.Outcome == SaveOutcome.Saved)
                {
                    write.Applied(command, after: answer.Current);
                }

                return answer;
            },
            cancel);
    }
}
