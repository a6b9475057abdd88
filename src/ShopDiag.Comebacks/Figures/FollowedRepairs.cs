using System.Collections.Immutable;
using ShopDiag.Comebacks.Repairs;

namespace ShopDiag.Comebacks.Figures;

/// <summary>
/// The repairs that were asked about, each with what became of it: made once, then looked at by any grouping. Same cases, same figures, in any order of the cases.
/// </summary>
/// <remarks>
/// Time: a car without a confirmed comeback counts as watched, and good, until the day asked about, seen again or not; whether it went to another shop cannot be
/// known. Distance: to the last reading, and on from there by what the car (or the middle car) is driven in a day.
/// </remarks>
public sealed class FollowedRepairs
{
    private readonly Lazy<GroupFigures> _together;

    private FollowedRepairs(OwnerQuestion question, ImmutableArray<FollowedRepair> all, double kilometresADay)
    {
        (Question, All, KilometresADay) = (question, all, kilometresADay);
        ByDays = WatchedInOrder.Of(all, static f => f.ByDays);
        ByKilometres = WatchedInOrder.Of(all, static f => f.ByKilometres);
        _together = new(() => GroupCounts.OfAll(this, Memberships.AllOf(All.Length)).FiguresOfAll());
    }

    /// <summary>What was asked.</summary>
    public OwnerQuestion Question { get; }

    /// <summary>The repairs, by order number.</summary>
    public ImmutableArray<FollowedRepair> All { get; }

    /// <summary>Kilometres a day by which distances are carried on where a car does not tell its own.</summary>
    public double KilometresADay { get; }

    /// <summary>The repairs as watched over days.</summary>
    internal WatchedInOrder ByDays { get; }

    /// <summary>The repairs as watched over kilometres.</summary>
    internal WatchedInOrder ByKilometres { get; }

    /// <summary>The figures of all of them as one group, made once.</summary>
    internal GroupFigures Together => _together.Value;

    /// <summary>Follows the repairs among the cases that were handed over in the days asked about.</summary>
    /// <param name="cases">All the shop's cases: repairs, and the orders that are or may be comebacks, also later than the days asked about.</param>
    /// <param name="question">What is asked.</param>
    public static FollowedRepairs From(IEnumerable<RepairCase> cases, OwnerQuestion question)
    {
        ArgumentNullException.ThrowIfNull(cases);
        ArgumentNullException.ThrowIfNull(question);
        var known = cases as IReadOnlyCollection<RepairCase> ?? [.. cases];
        var (returns, proposed) = Returns(known, question.AsOf);
        var daily = DailyDistance.From(known.Select(c => (c, Seen(c, returns.GetValueOrDefault(c.OrderId), question.AsOf))));
        RepairCase[] asked = [.. known.Where(question.Covers)];
        Array.Sort(Array.ConvertAll(asked, c => c.Number), asked);
        return new(question, [.. asked.Select(c => Follow(c, returns.GetValueOrDefault(c.OrderId), proposed.Contains(c.OrderId), daily, question))], daily.Typical);
    }

    /// <summary>By earlier order, the first one confirmed as its comeback; and those with one that nobody has decided on.</summary>
    private static (Dictionary<Guid, RepairCase> Confirmed, HashSet<Guid> Proposed) Returns(IEnumerable<RepairCase> cases, DateOnly asOf)
    {
        var (confirmed, proposed) = (new Dictionary<Guid, RepairCase>(), new HashSet<Guid>());
        foreach (var one in cases)
        {
            if (one.ComebackOf is not { } earlier || earlier == one.OrderId || one.CameInOn > asOf)
            {
                continue;
            }

            if (one.Answer == ComebackAnswer.Undecided)
            {
                proposed.Add(earlier);
            }
            else if (one.Answer == ComebackAnswer.Yes && (!confirmed.TryGetValue(earlier, out var first) || (one.CameInOn, one.Number).CompareTo((first.CameInOn, first.Number)) < 0))
            {
                confirmed[earlier] = one;
            }
        }

        return (confirmed, proposed);
    }

    private static FollowedRepair Follow(RepairCase repair, RepairCase? back, bool proposed, DailyDistance daily, OwnerQuestion question)
    {
        var until = back?.CameInOn ?? question.AsOf;

        // A return dated before the hand-over is a date typed wrong; that it came back is certain, so it counts from the first day.
        var days = Math.Max(0, until.DayNumber - repair.HandedOverOn!.Value.DayNumber);
        var (kilometres, estimated) = daily.Until(until, repair, Seen(repair, back, question.AsOf));
        var settled = question.AsOf.DayNumber - repair.HandedOverOn.Value.DayNumber > question.Window.Days;
        return new(repair, back, StandingOf(), days, kilometres, estimated, settled);

        Standing StandingOf() => (back, proposed) switch
        {
            ({ } order, _) => question.Window.Holds(days, Driven.Between(repair.OdometerKm, order.OdometerKm)) ? Standing.CameBack : Standing.CameBackLater,
            (null, true) => Standing.Undecided,
            _ => question.Window.Holds(days, LastReading(repair, question.AsOf)) ? Standing.TooEarly : Standing.Held,
        };
    }

    /// <summary>The visit that tells how far the car has gone: the return, or the last one up to the day asked about.</summary>
    private static VehicleVisit? Seen(RepairCase repair, RepairCase? back, DateOnly asOf) =>
        back is not null ? new(back.CameInOn, back.OdometerKm) : repair.LastSeen is { } seen && seen.On <= asOf ? seen : null;

    private static int? LastReading(RepairCase repair, DateOnly asOf) => Driven.Between(repair.OdometerKm, Seen(repair, null, asOf)?.OdometerKm);
}
