using System.Collections.Immutable;
using ShopDiag.Comebacks.Repairs;
using ShopDiag.Comebacks.Statistics;

namespace ShopDiag.Comebacks.Figures;

/// <summary>
/// The owner's figures by one grouping: how many repairs, how many came back, and what small numbers allow to be said of that. docs/comebacks.md says what is counted
/// and what cannot be known.
/// </summary>
public sealed record OwnerFigures
{
    /// <summary>Days at which the share still good is told.</summary>
    public static ImmutableArray<int> Days { get; } = [30, 90, 365];

    /// <summary>Kilometres at which the share still good is told.</summary>
    public static ImmutableArray<int> Kilometres { get; } = [5_000, 10_000, 20_000];

    /// <summary>What was asked.</summary>
    public required OwnerQuestion Question { get; init; }

    /// <summary>By what the repairs are put together.</summary>
    public required Grouping By { get; init; }

    /// <summary>All repairs that belong to a group, each once.</summary>
    public required GroupFigures All { get; init; }

    /// <summary>The groups, the highest shrunken rate first; of two alike the larger, then by key.</summary>
    public required ImmutableArray<GroupFigures> Groups { get; init; }

    /// <summary>The rate towards which small groups are drawn, and how strongly.</summary>
    public required RateShrinkage Shrinkage { get; init; }

    /// <summary>
    /// All groups compared at once; null where a repair can be in two of them (causes, makers, vendors), with too few comebacks, and with more than a hundred groups
    /// of enough.
    /// </summary>
    public required LogRankResult? Overall { get; init; }

    /// <summary>How many groups were compared with the rest: what the adjusted probabilities allow for.</summary>
    public int Comparisons => Groups.Count(g => g.Comparison is not null);

    /// <summary>Kilometres a day by which distances are carried on where a car does not tell its own.</summary>
    public required double KilometresADay { get; init; }

    /// <summary>The figures from the shop's cases (<see cref="FollowedRepairs.From"/>).</summary>
    public static OwnerFigures From(IEnumerable<RepairCase> cases, OwnerQuestion question, Grouping by) => From(FollowedRepairs.From(cases, question), by);

    /// <summary>The figures from repairs that are followed already: for several groupings of the same.</summary>
    public static OwnerFigures From(FollowedRepairs followed, Grouping by)
    {
        ArgumentNullException.ThrowIfNull(followed);
        var members = Memberships.By(by, followed.All);
        var groups = GroupCounts.Of(followed, members);
        var shrinkage = RateShrinkage.Of(groups.Select(g => g.Rate));
        var all = followed.ByDays.InAny(members);
        var compared = GroupComparisons.EachAgainstTheRest(all, groups);
        return new()
        {
            Question = followed.Question,
            By = by,
            All = members.HoldAll ? followed.Together : GroupCounts.OfAll(followed, members.AsOne()).FiguresOfAll(),
            Groups = Ranked(groups.Select((g, i) => g.Figures(members.Keys[i], shrinkage.Shrink(g.Rate), compared[i]))),
            Shrinkage = shrinkage,
            Overall = members.AreApart ? GroupComparisons.All(all, groups, compared) : null,
            KilometresADay = followed.KilometresADay,
        };
    }

    private static ImmutableArray<GroupFigures> Ranked(IEnumerable<GroupFigures> groups) =>
    [
        .. groups.OrderByDescending(g => g.ShrunkenRate).ThenByDescending(g => g.Repairs).ThenBy(g => g.Key, StringComparer.Ordinal),
    ];
}
