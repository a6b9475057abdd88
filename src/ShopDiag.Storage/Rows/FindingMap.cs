using ShopDiag.Storage.Json;
using ShopDiag.Storage.Orders;

namespace ShopDiag.Storage.Rows;

/// <summary>Findings and moves: row to record and record to row.</summary>
internal static class FindingMap
{
    /// <summary>The finding, or null when the row takes the one before back.</summary>
    public static OrderFinding? ToRecord(this FindingRow row) =>
        row.FindingJson is { } json ? StorageJson.Read<OrderFinding>(json) : null;

    /// <summary>A finding taken over; null takes the one before back.</summary>
    public static FindingRow ToRow(OrderFinding? finding, Guid orderId, int sequence, DateTime savedAt) => new()
    {
        OrderId = orderId,
        Sequence = sequence,
        FindingJson = finding is null ? null : StorageJson.Write(finding),
        Causes = finding is null ? "" : OrderMap.List([.. finding.Conclusion.Causes.Select(c => c.Cause).Distinct()]),
        SavedAt = savedAt,
    };

    public static StageMove ToRecord(this StageMoveRow row) => new(row.Stage, row.At, row.By, row.Reason);

    public static StageMoveRow ToRow(this StageMove move, Guid orderId, int sequence) => new()
    {
        OrderId = orderId, Sequence = sequence, Stage = move.Stage, At = move.At, By = move.By, Reason = move.Reason,
    };
}
