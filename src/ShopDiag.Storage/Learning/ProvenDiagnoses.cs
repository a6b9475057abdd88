using Microsoft.EntityFrameworkCore;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Learning;
using ShopDiag.Storage.Json;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Rows;
using ShopDiag.Storage.Writing;

namespace ShopDiag.Storage.Learning;

/// <summary>Keeps the counted diagnoses of an order in step with its finding and its engine, in the same transaction.</summary>
internal static class ProvenDiagnoses
{
    /// <summary>What an order counts for: the causes of a finding taken over with proof, each once. Without proof or engine nothing counts.</summary>
    public static IEnumerable<ProvenDiagnosisRow> Of(Guid order, OrderFinding? finding, EngineSpec? engine) =>
        finding is not { UnprovenReason: null } || finding.Conclusion.Proof.IsEmpty || engine is null
            ? []
            : finding.Conclusion.Causes.Select(c => c.Cause).Distinct(StringComparer.Ordinal).Select(cause => new ProvenDiagnosisRow
            {
                OrderId = order, Cause = cause, EngineFamily = EngineFamily.Of(engine).Id, ProvenAt = finding.At,
            });

    /// <summary>Puts what the order counts for now in place of what it counted for before; made by mistake, it counts for nothing. Again is harmless.</summary>
    public static async Task KeepAsync(WriteScope write, Guid order, OrderFinding? finding, string? engineJson)
    {
        var engine = engineJson is null ? null : StorageJson.Read<EngineSpec>(engineJson);
        await write.Db.ProvenDiagnoses.Where(d => d.OrderId == order).ExecuteDeleteAsync().ConfigureAwait(false);
        // Found among the tracked rows, so with the stage that this very command gives it.
        if (await write.Db.Orders.FindAsync(order).ConfigureAwait(false) is { Stage: not OrderStage.MadeByMistake })
        {
            write.Db.ProvenDiagnoses.AddRange(Of(order, finding, engine));
        }
    }

    /// <summary>The same where the finding stands but the engine has changed.</summary>
    public static async Task KeepAsync(WriteScope write, Guid order, string? engineJson)
    {
        var newest = await write.Db.Findings.AsNoTracking().Where(f => f.OrderId == order)
            .OrderByDescending(f => f.Sequence).FirstOrDefaultAsync().ConfigureAwait(false);
        if (newest is not null)
        {
            await KeepAsync(write, order, newest.ToRecord(), engineJson).ConfigureAwait(false);
        }
    }
}
