using System.Collections.Immutable;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Storage.Json;
using ShopDiag.Storage.Orders;

namespace ShopDiag.Storage.Rows;

/// <summary>Readings: row to record and record to row.</summary>
internal static class ReadingMap
{
    /// <summary>All readings of one order in order of saving; which of them are superseded shows only in the whole.</summary>
    public static ImmutableArray<StoredReading> ToRecords(this IReadOnlyCollection<ReadingRow> rows)
    {
        var superseded = rows.Where(r => r.SupersedesId is not null).Select(r => r.SupersedesId!.Value).ToHashSet();
        return [.. rows.OrderBy(r => r.Sequence).Select(r => r.ToRecord(superseded.Contains(r.Id)))];
    }

    public static StoredReading ToRecord(this ReadingRow row, bool superseded) => new()
    {
        Id = row.Id,
        Sequence = row.Sequence,
        Reading = new Reading
        {
            Test = row.Test,
            At = PlaceColumns.Read(row.PlaceKind, row.PlaceFirst, row.PlaceSecond),
            Value = ReadingValueJson.Read(row.ValueJson),
            Stage = row.Stage,
            Warm = row.Warm,
            TakenAt = row.TakenAt,
            By = row.By,
            Note = row.Note,
        },
        SupersedesId = row.SupersedesId,
        Withdrawn = row.Withdrawn,
        Superseded = superseded,
    };

    public static ReadingRow ToRow(this StoredReading stored, Guid orderId, DateTime savedAt) => new()
    {
        Id = stored.Id,
        OrderId = orderId,
        Sequence = stored.Sequence,
        Test = stored.Reading.Test,
        PlaceKind = stored.Reading.At.Kind,
        PlaceFirst = stored.Reading.At.First,
        PlaceSecond = stored.Reading.At.Second,
        ValueJson = ReadingValueJson.Write(stored.Reading.Value),
        Stage = stored.Reading.Stage,
        Warm = stored.Reading.Warm,
        TakenAt = stored.Reading.TakenAt,
        By = stored.Reading.By,
        Note = stored.Reading.Note,
        SupersedesId = stored.SupersedesId,
        Withdrawn = stored.Withdrawn,
        SavedAt = savedAt,
    };
}
