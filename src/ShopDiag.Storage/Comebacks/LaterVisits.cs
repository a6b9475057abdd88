using ShopDiag.Comebacks.Repairs;

namespace ShopDiag.Storage.Comebacks;

/// <summary>Puts on each case the last visit of its vehicle after it.</summary>
internal static class LaterVisits
{
    /// <summary>Changes the list, which is in order of number, where it says something else. The last order of a vehicle has no later visit.</summary>
    public static void Put(List<RepairCase> cases)
    {
        var last = new Dictionary<Guid, VehicleVisit>(cases.Count);
        for (var i = cases.Count - 1; i >= 0; i--)
        {
            var one = cases[i];
            VehicleVisit? later = null;
            if (last.TryGetValue(one.VehicleId, out var visit))
            {
                later = visit;
            }
            else
            {
                last[one.VehicleId] = new(one.CameInOn, one.OdometerKm);
            }

            if (one.LastSeen != later)
            {
                cases[i] = one with { LastSeen = later };
            }
        }
    }
}
