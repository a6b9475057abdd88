using System.Collections.Immutable;
using ShopDiag.Comebacks.Repairs;
using ShopDiag.Storage.Rows;

namespace ShopDiag.Storage.Comebacks;

/// <summary>Puts the likeliest earlier repair on the orders that look like comebacks and on which nobody has said anything.</summary>
internal static class UndecidedOrders
{
    /// <summary>
    /// The cases with the proposals on them. What an order says of its trouble is read only where a car has several earlier repairs in the window: of one there is nothing to choose.
    /// </summary>
    /// <param name="db">A context.</param>
    /// <param name="cases">The cases by number.</param>
    /// <param name="window">The owner's window.</param>
    /// <param name="cancel">Gives up.</param>
    public static async Task<ImmutableArray<RepairCase>> ProposeAsync(ShopDb db, ImmutableArray<RepairCase> cases, ComebackWindow window, CancellationToken cancel)
    {
        var open = Open(cases, window);
        ImmutableArray<RepairCase> compared = [.. open.Where(o => o.Earlier.Length > 1).SelectMany(o => o.Earlier.Append(cases[o.At])).DistinctBy(c => c.OrderId)];
        var told = (await Concerns.OnAsync(db, compared, cancel).ConfigureAwait(false)).ToDictionary(c => c.OrderId);
        var proposed = cases.ToBuilder();
        foreach (var (at, earlier) in open)
        {
            proposed[at] = cases[at] with { ComebackOf = earlier is [var only] ? only.OrderId : Likeliest(told[cases[at].OrderId], earlier.Select(e => told[e.OrderId]), window) };
        }

        return proposed.ToImmutable();
    }

    /// <summary>The orders on which nobody has said anything, by their place, with the earlier repairs on the car in the window.</summary>
    private static List<(int At, RepairCase[] Earlier)> Open(ImmutableArray<RepairCase> cases, ComebackWindow window)
    {
        // For each repair the place of the one before it on the same car, or -1: what is there so far is earlier.
        var (last, before, open) = (new Dictionary<Guid, int>(cases.Length), new int[cases.Length], new List<(int, RepairCase[])>());
        for (var i = 0; i < cases.Length; i++)
        {
            var one = cases[i];
            before[i] = last.TryGetValue(one.VehicleId, out var previous) ? previous : -1;
            if (before[i] >= 0 && one is { Answer: ComebackAnswer.Undecided, ComebackOf: null } && InWindow(cases, before, i, window) is { Length: > 0 } earlier)
            {
                open.Add((i, earlier));
            }

            if (!one.Repaired.IsEmpty && one.HandedOverOn is not null)
            {
                last[one.VehicleId] = i;
            }
        }

        return open;
    }

    private static RepairCase[] InWindow(ImmutableArray<RepairCase> cases, int[] before, int order, ComebackWindow window)
    {
        var found = new List<RepairCase>();
        for (var i = before[order]; i >= 0; i = before[i])
        {
            if (ComebackProposal.IsInWindow(cases[i], cases[order].CameInOn, cases[order].OdometerKm, window))
            {
                found.Add(cases[i]);
            }
        }

        return [.. found];
    }

    private static Guid Likeliest(RepairCase order, IEnumerable<RepairCase> earlier, ComebackWindow window) => ComebackProposal.For(Arrived(order), earlier, window)[0].OrderId;

    private static ArrivedOrder Arrived(RepairCase order) => new()
    {
        OrderId = order.OrderId,
        VehicleId = order.VehicleId,
        CameInOn = order.CameInOn,
        OdometerKm = order.OdometerKm,
        Codes = order.Codes,
        When = order.When,
        ConcernText = order.ConcernText,
        Places = [.. order.Repaired.Select(r => r.At)],
    };
}
