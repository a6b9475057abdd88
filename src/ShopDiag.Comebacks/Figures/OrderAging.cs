using System.Collections.Immutable;
using ShopDiag.Comebacks.Statistics;

namespace ShopDiag.Comebacks.Figures;

/// <summary>An order that is not handed over.</summary>
/// <param name="OrderId">The order's key.</param>
/// <param name="Number">The number on paper.</param>
/// <param name="WrittenUpOn">The day it was written up, in the shop's time.</param>
/// <param name="Stage">Where it stands, in the program's word for the stage.</param>
public sealed record OpenOrder(Guid OrderId, int Number, DateOnly WrittenUpOn, string Stage);

/// <summary>Open orders of about the same age.</summary>
/// <param name="FromDays">The youngest, in days.</param>
/// <param name="ToDays">The oldest, in days; null for any.</param>
/// <param name="Orders">The orders, oldest first.</param>
public sealed record AgeBand(int FromDays, int? ToDays, ImmutableArray<OpenOrder> Orders);

/// <summary>How long the open orders have been open.</summary>
public sealed record OrderAging
{
    /// <summary>The last day of each band but the last: today or yesterday, to the third day, a week, two weeks, a month. Common practice.</summary>
    private static readonly int[] Ends = [1, 3, 7, 14, 30];

    /// <summary>By age, every band once, the youngest first.</summary>
    public required ImmutableArray<AgeBand> Bands { get; init; }

    /// <summary>Median and quartiles of the age in days; null when nothing is open.</summary>
    public required Quartiles? Days { get; init; }

    /// <summary>How many are open.</summary>
    public int Count => Bands.Sum(b => b.Orders.Length);

    /// <summary>By age as of a day; one dated later counts as of that day.</summary>
    public static OrderAging Of(IEnumerable<OpenOrder> open, DateOnly asOf)
    {
        ArgumentNullException.ThrowIfNull(open);
        OpenOrder[] oldestFirst = [.. open.OrderBy(o => o.WrittenUpOn).ThenBy(o => o.Number)];
        int Age(OpenOrder order) => Math.Max(0, asOf.DayNumber - order.WrittenUpOn.DayNumber);
        return new()
        {
            Bands =
            [
                .. Enumerable.Range(0, Ends.Length + 1)
                    .Select(i => (From: i == 0 ? 0 : Ends[i - 1] + 1, To: i < Ends.Length ? Ends[i] : (int?)null))
                    .Select(b => new AgeBand(b.From, b.To, [.. oldestFirst.Where(o => Age(o) >= b.From && !(Age(o) > b.To))])),
            ],
            Days = oldestFirst.Length == 0 ? null : Quartiles.Of(oldestFirst.Select(o => (double)Age(o))),
        };
    }
}
