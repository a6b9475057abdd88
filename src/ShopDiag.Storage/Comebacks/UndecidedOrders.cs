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
    public static async Task<ImmutableArray<RepairCase>> ProposeAsync(ShopDb db, ImmutableArray<RepairCase> cases, ComebackWindow window, CancellationToken cancel)
    {
        var open = Open(cases, window);
        if (open.Count == 0)
        {
            return cases;
        }

        ImmutableArray<RepairCase> compared = [.. open.Values.Where(o => o.Earlier.Count > 1).SelectMany(o => o.Earlier.Append(o.Order)).DistinctBy(c => c.OrderId)];
        var several = (await Concerns.OnAsync(db, compared, cancel).ConfigureAwait(false)).ToDictionary(c => c.OrderId);
        return [.. cases.Select(c => open.TryGetValue(c.OrderId, out var o) ? c with { ComebackOf = Likeliest(o, several, window) } : c)];
    }

    private static Dictionary<Guid, (RepairCase Order, List<RepairCase> Earlier)> Open(ImmutableArray<RepairCase> cases, ComebackWindow window)
    {
        var (repairs, open) = (new Dictionary<Guid, List<RepairCase>>(), new Dictionary<Guid, (RepairCase, List<RepairCase>)>());
        foreach (var one in cases)
        {
            // By number: what is there so far is earlier.
            if (one is { Answer: ComebackAnswer.Undecided, ComebackOf: null } && repairs.TryGetValue(one.VehicleId, out var before)
                && before.FindAll(r => ComebackProposal.IsInWindow(r, one.CameInOn, one.OdometerKm, window)) is { Count: > 0 } earlier)
            {
                open[one.OrderId] = (one, earlier);
            }

            if (!one.Repaired.IsEmpty && one.HandedOverOn is not null)
            {
                (repairs.TryGetValue(one.VehicleId, out var all) ? all : repairs[one.VehicleId] = []).Add(one);
            }
        }

        return open;
    }

    private static Guid Likeliest((RepairCase Order, List<RepairCase> Earlier) open, Dictionary<Guid, RepairCase> several, ComebackWindow window) => open.Earlier is [var only]
        ? only.OrderId
        : ComebackProposal.For(Arrived(several[open.Order.OrderId]), open.Earlier.Select(e => several[e.OrderId]), window)[0].OrderId;

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
