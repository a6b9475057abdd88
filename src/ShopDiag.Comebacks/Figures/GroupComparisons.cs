using ShopDiag.Comebacks.Statistics;

namespace ShopDiag.Comebacks.Figures;

/// <summary>Groups compared over days by the log-rank test, where there is enough to compare.</summary>
internal static class GroupComparisons
{
    /// <summary>Groups up to which all are tested at once: with more the work grows with their square, and the answer says nothing.</summary>
    private const int MostAtOnce = 100;

    /// <summary>Each group against all the others, by number, adjusted for the comparisons made; null where there is nothing to compare or too little.</summary>
    public static GroupComparison?[] EachAgainstTheRest(Observation[] all, GroupCounts[] groups)
    {
        var timeline = EventTimeline.OfSorted(all);
        var happened = all.Count(o => o.Happened);
        var tests = Array.ConvertAll(groups, g => Test(timeline, g, all.Length, happened));
        var adjusted = new Queue<double>(BenjaminiHochberg.Adjusted([.. tests.OfType<LogRankGroup>().Select(t => t.P)]));
        return Array.ConvertAll(tests, t => t is { } made ? new GroupComparison(made, adjusted.Dequeue()) : (GroupComparison?)null);
    }

    /// <summary>
    /// All groups at once, those with too few comebacks to expect put together; null when fewer than two are left, or there are too many, or a repair is in two.
    /// </summary>
    public static LogRankResult? All(Observation[] all, GroupCounts[] groups, GroupComparison?[] compared)
    {
        var large = groups.Where((_, i) => compared[i] is not null).Select(g => g.Days).ToList();
        var rest = groups.Where((_, i) => compared[i] is null).SelectMany(g => g.Days).ToArray();
        if (large.Count is 0 or > MostAtOnce)
        {
            return null;
        }

        // With one large group the rest is as large: it was compared with it.
        Array.Sort(rest, static (a, b) => a.Time.CompareTo(b.Time));
        if (EventTimeline.OfSorted(all) is var timeline && LogRank.Against(timeline, rest).Expected >= SmallNumbers.LeastExpected)
        {
            large.Add(rest);
            return LogRank.CompareSorted(all, large);
        }

        return large.Count < 2 ? null : LogRank.Compare(large);
    }

    private static LogRankGroup? Test(EventTimeline timeline, GroupCounts group, int repairs, int happened)
    {
        if (group.Repairs == repairs || SmallNumbers.AreSmall(group.Repairs) || SmallNumbers.AreSmall(repairs - group.Repairs))
        {
            return null;
        }

        var test = LogRank.Against(timeline, group.Days);
        return test.Expected >= SmallNumbers.LeastExpected && happened - test.Expected >= SmallNumbers.LeastExpected ? test : null;
    }
}
