using System.Collections.Immutable;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Storage.Orders;

namespace ShopDiag.Storage.Rows;

/// <summary>Tests that cannot be taken: row to record and record to row.</summary>
internal static class ObstacleMap
{
    /// <summary>All of one order, oldest first, those that have ended too.</summary>
    public static ImmutableArray<StoredObstacle> ToRecords(this IEnumerable<ObstacleRow> rows) => [.. rows.OrderBy(r => r.SaidAt).ThenBy(r => r.Id).Select(ToRecord)];

    public static ObstacleRow ToRow(StoredObstacle stored, Guid orderId) => new()
    {
        Id = stored.Id,
        OrderId = orderId,
        Test = stored.Obstacle.Test,
        PlaceKind = stored.Obstacle.At.Kind,
        PlaceFirst = stored.Obstacle.At.First,
        PlaceSecond = stored.Obstacle.At.Second,
        Why = stored.Obstacle.Why,
        By = stored.By,
        SaidAt = stored.SaidAt,
        EndedBy = stored.EndedBy,
        EndedAt = stored.EndedAt,
    };

    private static StoredObstacle ToRecord(ObstacleRow row) => new()
    {
        Id = row.Id,
        Obstacle = new Obstacle(row.Test, PlaceColumns.Read(row.PlaceKind, row.PlaceFirst, row.PlaceSecond)) { Why = row.Why },
        By = row.By,
        SaidAt = row.SaidAt,
        EndedBy = row.EndedBy,
        EndedAt = row.EndedAt,
    };
}
