using System.Collections.Immutable;
using ShopDiag.Comebacks.Statistics;

namespace ShopDiag.Comebacks.Figures;

/// <summary>The repairs of a group by their place among all, in order of number: from them every list of orders is made when somebody opens it.</summary>
internal sealed class GroupMembers(ImmutableArray<FollowedRepair> all, int size)
{
    private readonly int[] _places = new int[size];
    private readonly int[] _byStanding = new int[Enum.GetValues<Standing>().Length];
    private int _count;

    /// <summary>How many.</summary>
    public int Count => _count;

    /// <summary>How many of a standing.</summary>
    public int CountOf(Standing standing) => _byStanding[(int)standing];

    /// <summary>The repairs.</summary>
    public IEnumerable<FollowedRepair> Repairs => _places.Select(p => all[p]);

    /// <summary>The next one, by its place.</summary>
    public void Add(int place)
    {
        _places[_count++] = place;
        _byStanding[(int)all[place].Standing]++;
    }
}

/// <summary>What is gathered of a group before it is compared with the others.</summary>
internal sealed class GroupCounts
{
    private readonly GroupMembers _members;
    private readonly Observation[] _kilometres;
    private int _estimated;
    private FirstTimeRight _right;
    private LabourMinutes _labour;

    private GroupCounts(GroupMembers members, Observation[] days, Observation[] kilometres) => (_members, Days, _kilometres) = (members, days, kilometres);

    /// <summary>Observations over days, in order.</summary>
    public Observation[] Days { get; }

    /// <summary>Repairs counted.</summary>
    public int Repairs => _members.Count;

    /// <summary>Comebacks among them.</summary>
    public RateCount Rate => new(_members.CountOf(Standing.CameBack), Repairs);

    /// <summary>The groups by number, everything gathered.</summary>
    public static GroupCounts[] Of(FollowedRepairs followed, Memberships members)
    {
        var (days, kilometres) = (followed.ByDays.ByGroup(members), followed.ByKilometres.ByGroup(members));
        GroupCounts[] groups = [.. members.Sizes.Select((size, g) => new GroupCounts(new(followed.All, size), days[g], kilometres[g]))];
        for (var i = 0; i < followed.All.Length; i++)
        {
            foreach (var g in members.Of(i))
            {
                groups[g]._members.Add(i);
                groups[g].Count(in followed.All.ItemRef(i));
            }
        }

        return groups;
    }

    /// <summary>The one group of repairs that are one.</summary>
    public static GroupCounts OfAll(FollowedRepairs followed, Memberships asOne) => Of(followed, asOne)[0];

    /// <summary>The finished figures of all repairs together, whose rate is its own and which are compared with nothing.</summary>
    public GroupFigures FiguresOfAll() => Figures("", Repairs == 0 ? 0 : (double)Rate.Hits / Repairs, null);

    /// <summary>The finished figures.</summary>
    public GroupFigures Figures(string key, double shrunkenRate, GroupComparison? comparison) => new(_members)
    {
        Key = key,
        ShrunkenRate = shrunkenRate,
        DaysGood = KaplanMeier.OfSorted(Days),
        KilometresGood = KaplanMeier.OfSorted(_kilometres),
        KilometresEstimated = _estimated,
        Comparison = comparison,
        FirstTimeRight = _right,
        Labour = _labour,
    };

    private void Count(in FollowedRepair repair)
    {
        _estimated += repair.KilometresEstimated ? 1 : 0;
        if (repair.Settled && repair.Standing != Standing.Undecided)
        {
            _right = new(_right.Right + (repair.Standing == Standing.CameBack ? 0 : 1), _right.Of + 1);
        }

        if (repair.Case is { MinutesBilled: { } billed, MinutesSpent: { } spent })
        {
            _labour = new(_labour.Orders + 1, _labour.Billed + billed, _labour.Spent + spent, _labour.Authorised + (repair.Case.MinutesAuthorised ?? 0));
        }
    }
}
