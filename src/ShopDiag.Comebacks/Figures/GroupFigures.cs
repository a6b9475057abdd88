using System.Collections.Immutable;
using ShopDiag.Comebacks.Statistics;

namespace ShopDiag.Comebacks.Figures;

/// <summary>A repair and the order on which it came back.</summary>
/// <param name="Repair">The repair's order.</param>
/// <param name="Return">The later order.</param>
public readonly record struct ComebackOrders(Guid Repair, Guid Return);

/// <summary>The share still good at a time or distance.</summary>
/// <param name="At">Days or kilometres.</param>
/// <param name="Share">What is known of it; null when no repair has been watched that long.</param>
public readonly record struct StillGood(int At, SurvivalPoint? Share)
{
    /// <summary>True when it is not known or rests on fewer than <see cref="SmallNumbers.LeastAtRisk"/> cars watched that long.</summary>
    public bool IsSmall => !(Share?.AtRisk >= SmallNumbers.LeastAtRisk);
}

/// <summary>
/// Repairs mended at the first go: of those for which the window's days are over, those that did not come back in it. Left out are repairs not so old, whether they
/// came back or not (the ones that did would else weigh too much), and those of which a later order is not decided on.
/// </summary>
/// <param name="Right">How many.</param>
/// <param name="Of">Of how many.</param>
public readonly record struct FirstTimeRight(int Right, int Of)
{
    /// <summary>The share, 0 to 1; null when there are none.</summary>
    public double? Share => Of == 0 ? null : (double)Right / Of;

    /// <summary>Its Wilson 95 % interval.</summary>
    public Interval Interval => Proportions.Wilson(Right, Of);
}

/// <summary>Minutes of work, over the orders on which both billed and spent ones are known.</summary>
/// <param name="Orders">How many such orders.</param>
/// <param name="Billed">Minutes billed on them.</param>
/// <param name="Spent">Minutes spent on them.</param>
/// <param name="Authorised">Minutes authorised on those of them where any were agreed.</param>
public readonly record struct LabourMinutes(int Orders, long Billed, long Spent, long Authorised)
{
    /// <summary>Billed for each one spent; null when none was spent.</summary>
    public double? BilledForSpent => Spent == 0 ? null : (double)Billed / Spent;
}

/// <summary>A group against all the other repairs together.</summary>
/// <param name="Test">Comebacks seen and expected, by <see cref="LogRank.Form"/>.</param>
/// <param name="AdjustedP">Its probability, adjusted for all the comparisons made (<see cref="BenjaminiHochberg"/>).</param>
public readonly record struct GroupComparison(LogRankGroup Test, double AdjustedP)
{
    /// <summary>True when the adjusted probability is not above <see cref="SmallNumbers.ChanceAmongDifferences"/>.</summary>
    public bool Differs => AdjustedP <= SmallNumbers.ChanceAmongDifferences;
}

/// <summary>The figures of one group of repairs.</summary>
public sealed record GroupFigures
{
    internal GroupFigures(GroupMembers members) => Members = members;

    /// <summary>What the repairs have in common: a cause's id, a name, <c>given</c>, <c>skipped</c>, <c>done</c>; empty for those of which it is not said, and for all together.</summary>
    public required string Key { get; init; }

    /// <summary>Repairs handed over.</summary>
    public int Repairs => Members.Count;

    /// <summary>Of them, confirmed comebacks within the window.</summary>
    public int Comebacks => Members.CountOf(Standing.CameBack);

    /// <summary>Comebacks over repairs; null when there are no repairs. Too low while many windows are not over: <see cref="DaysGood"/> allows for that.</summary>
    public double? Rate => Repairs == 0 ? null : (double)Comebacks / Repairs;

    /// <summary>Wilson 95 % interval of the rate.</summary>
    public Interval RateInterval => Proportions.Wilson(Comebacks, Repairs);

    /// <summary>The rate to rank by: drawn towards that of all, the further the smaller the group (<see cref="RateShrinkage"/>).</summary>
    public required double ShrunkenRate { get; init; }

    /// <summary>True when the group is small (<see cref="SmallNumbers.LeastRepairs"/>); its place in a ranking then says nothing.</summary>
    public bool AreSmallNumbers => SmallNumbers.AreSmall(Repairs);

    /// <summary>Share still good by days from hand-over, every confirmed comeback counted, in the window or not.</summary>
    public required SurvivalCurve DaysGood { get; init; }

    /// <summary>The same by kilometres.</summary>
    public required SurvivalCurve KilometresGood { get; init; }

    /// <summary>Repairs whose distance, or its last part, is estimated.</summary>
    public required int KilometresEstimated { get; init; }

    /// <summary>Still good after <see cref="OwnerFigures.Days"/>.</summary>
    public ImmutableArray<StillGood> StillGoodDays => [.. OwnerFigures.Days.Select(d => new StillGood(d, DaysGood.At(d)))];

    /// <summary>Still good after <see cref="OwnerFigures.Kilometres"/>.</summary>
    public ImmutableArray<StillGood> StillGoodKilometres => [.. OwnerFigures.Kilometres.Select(k => new StillGood(k, KilometresGood.At(k)))];

    /// <summary>Against all the others; null when there is nothing to compare with or numbers are too small.</summary>
    public required GroupComparison? Comparison { get; init; }

    /// <summary>Mended at the first go.</summary>
    public required FirstTimeRight FirstTimeRight { get; init; }

    /// <summary>Hours billed against hours spent.</summary>
    public required LabourMinutes Labour { get; init; }

    /// <summary>The repairs behind the figures.</summary>
    internal GroupMembers Members { get; }

    /// <summary>How many repairs are of a standing.</summary>
    public int CountOf(Standing standing) => Members.CountOf(standing);

    /// <summary>The repairs of the group with what became of each, by order number; a list is made of them when it is asked for.</summary>
    public IEnumerable<FollowedRepair> Followed => Members.Repairs;

    /// <summary>The orders of all its repairs, by number.</summary>
    public ImmutableArray<Guid> RepairOrders => [.. Followed.Select(f => f.Case.OrderId)];

    /// <summary>Those that came back in the window, and on which order.</summary>
    public ImmutableArray<ComebackOrders> ComebackOrders =>
        [.. Followed.Where(f => f.Standing == Standing.CameBack).Select(f => new ComebackOrders(f.Case.OrderId, f.Return!.OrderId))];

    /// <summary>The orders of those of a standing, by number.</summary>
    public ImmutableArray<Guid> OrdersOf(Standing standing) => [.. Followed.Where(f => f.Standing == standing).Select(f => f.Case.OrderId)];
}
