using System.Collections.Immutable;
using ShopDiag.Comebacks.Statistics;

namespace ShopDiag.Comebacks.Figures;

/// <summary>What is gathered of a group before it is compared with the others.</summary>
internal sealed class GroupCounts
{
    private readonly ImmutableArray<Guid>.Builder[] _orders = [.. Enum.GetValues<Standing>().Select(_ => ImmutableArray.CreateBuilder<Guid>())];
    private readonly ImmutableArray<Guid>.Builder _repairs = ImmutableArray.CreateBuilder<Guid>();
    private readonly ImmutableArray<ComebackOrders>.Builder _comebacks = ImmutableArray.CreateBuilder<ComebackOrders>();
    private readonly List<Observation> _days = [];
    private readonly List<Observation> _kilometres = [];
    private int _estimated;
    private FirstTimeRight _right;
    private LabourMinutes _labour;

    /// <summary>Observations over days, in order.</summary>
    public ReadOnlySpan<Observation> Days => System.Runtime.InteropServices.CollectionsMarshal.AsSpan(_days);

    /// <summary>Repairs counted.</summary>
    public int Repairs => _repairs.Count;

    /// <summary>Comebacks among them.</summary>
    public RateCount Rate => new(_comebacks.Count, _repairs.Count);

    /// <summary>The groups by number, everything gathered.</summary>
    public static GroupCounts[] Of(FollowedRepairs followed, Memberships members)
    {
        GroupCounts[] groups = [.. members.Keys.Select(_ => new GroupCounts())];
        for (var i = 0; i < followed.All.Length; i++)
        {
            foreach (var group in members.Of(i))
            {
                groups[group].Count(followed.All[i]);
            }
        }

        // From lists in order, each group's observations come in order without being sorted again.
        Spread(followed.ByDays, (group, i) => groups[group]._days.Add(followed.All[i].ByDays));
        Spread(followed.ByKilometres, (group, i) => groups[group]._kilometres.Add(followed.All[i].ByKilometres));
        return groups;

        void Spread(ReadOnlySpan<int> order, Action<int, int> add)
        {
            foreach (var i in order)
            {
                foreach (var group in members.Of(i))
                {
                    add(group, i);
                }
            }
        }
    }

    /// <summary>The finished figures.</summary>
    public GroupFigures Figures(string key, double shrunkenRate, GroupComparison? comparison) => new()
    {
        Key = key,
        ShrunkenRate = shrunkenRate,
        DaysGood = KaplanMeier.OfSorted(Days),
        KilometresGood = KaplanMeier.OfSorted(System.Runtime.InteropServices.CollectionsMarshal.AsSpan(_kilometres)),
        KilometresEstimated = _estimated,
        Comparison = comparison,
        FirstTimeRight = _right,
        Labour = _labour,
        RepairOrders = _repairs.ToImmutable(),
        ComebackOrders = _comebacks.ToImmutable(),
        LaterOrders = Orders(Standing.CameBackLater),
        UndecidedOrders = Orders(Standing.Undecided),
        HeldOrders = Orders(Standing.Held),
        TooEarlyOrders = Orders(Standing.TooEarly),
    };

    private ImmutableArray<Guid> Orders(Standing standing) => _orders[(int)standing].ToImmutable();

    private void Count(FollowedRepair repair)
    {
        var order = repair.Case.OrderId;
        _repairs.Add(order);
        _orders[(int)repair.Standing].Add(order);
        _estimated += repair.KilometresEstimated ? 1 : 0;
        if (repair.Standing == Standing.CameBack)
        {
            _comebacks.Add(new(order, repair.Return!.OrderId));
        }

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
