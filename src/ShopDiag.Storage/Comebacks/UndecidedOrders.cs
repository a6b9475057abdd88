using System.Collections.Immutable;
using ShopDiag.Comebacks.Repairs;

namespace ShopDiag.Storage.Comebacks;

/// <summary>Puts the likeliest earlier repair on the orders that look like comebacks and on which nobody has said anything.</summary>
internal static class UndecidedOrders
{
    public static ImmutableArray<RepairCase> Propose(ImmutableArray<RepairCase> cases, ComebackWindow window)
    {
        var byVehicle = cases.ToLookup(c => c.VehicleId);
        return [.. cases.Select(c => c is { Answer: ComebackAnswer.Undecided, ComebackOf: null } ? Proposed(c, byVehicle[c.VehicleId], window) : c)];
    }

    private static RepairCase Proposed(RepairCase order, IEnumerable<RepairCase> vehicle, ComebackWindow window)
    {
        var earlier = vehicle.Where(c => c.Number < order.Number && !c.Repaired.IsEmpty && c.HandedOverOn is not null).ToArray();
        return earlier.Length == 0 || ComebackProposal.For(Arrived(order), earlier, window) is not [var likeliest, ..] ? order : order with { ComebackOf = likeliest.OrderId };
    }

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
