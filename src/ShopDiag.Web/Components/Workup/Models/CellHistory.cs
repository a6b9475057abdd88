using System.Collections.Immutable;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Storage.Orders;
using ShopDiag.Web.Orders;

namespace ShopDiag.Web.Components.WorkupViews;

/// <summary>One reading in the history of a cell.</summary>
/// <param name="Id">Its key.</param>
/// <param name="Text">What was read, in the shop's units.</param>
/// <param name="Circumstances">When, by whom, warm or cold.</param>
/// <param name="Note">The note that stays with it, or empty.</param>
/// <param name="Fate">Empty while it counts; <c>corrected</c> or <c>taken back</c> otherwise.</param>
public sealed record PastReading(Guid Id, string Text, string Circumstances, string Note, string Fate)
{
    /// <summary>True while it counts.</summary>
    public bool Counts => Fate.Length == 0;
}

/// <summary>What was read in one cell and what has become of it: nothing is ever edited away.</summary>
/// <param name="Readings">All readings, oldest first.</param>
/// <param name="Findings">What they came to.</param>
public sealed record CellHistory(ImmutableArray<PastReading> Readings, ImmutableArray<Finding> Findings)
{
    /// <summary>The readings that still count, oldest first.</summary>
    public ImmutableArray<PastReading> Counting { get; } = [.. Readings.Where(r => r.Counts)];

    /// <summary>All readings of an order that still count, oldest first.</summary>
    public static IEnumerable<StoredReading> CountingOn(RepairOrder order)
    {
        ArgumentNullException.ThrowIfNull(order);
        return order.Readings.Where(r => !r.Superseded && !r.Withdrawn);
    }

    /// <summary>The history of a cell.</summary>
    public static CellHistory Of(CellKey cell, RepairOrder order, BenchTest test, Assessment? assessment, ShopUnits units, ShopClock clock)
    {
        ArgumentNullException.ThrowIfNull(order);
        var here = order.Readings.Where(r => r.Reading.Test == cell.Test && r.Reading.At == cell.At && r.Reading.Stage == cell.Stage).ToArray();
        var backIds = here.Where(r => r.Withdrawn).Select(r => r.SupersedesId).ToHashSet();
        return new CellHistory(
            [.. here.Where(r => !r.Withdrawn).OrderBy(r => r.Sequence).Select(r => new PastReading(
                r.Id, ReadingText.InFull(r.Reading, test, units), Circumstances(r.Reading, clock), r.Reading.Note ?? "",
                !r.Superseded ? "" : backIds.Contains(r.Id) ? "taken back" : "corrected"))],
            [.. assessment?.Findings.Where(f => f.Test == cell.Test && f.At == cell.At && f.Stage == cell.Stage) ?? []]);
    }

    private static string Circumstances(Reading reading, ShopClock clock) => string.Join(", ", new[]
    {
        reading.TakenAt is { } at ? clock.Say(at.UtcDateTime) : "",
        reading.By ?? "",
        reading.Warm switch { true => "warm", false => "cold", null => "" },
    }.Where(t => t.Length > 0));
}
