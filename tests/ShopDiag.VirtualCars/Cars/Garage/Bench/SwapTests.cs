namespace ShopDiag.VirtualCars.Cars.Garage.Bench;

/// <summary>Exchanging one part with another cylinder and seeing where the misfire goes. Numbers made-up.</summary>
internal static class SwapTests
{
    // Below this share of firings nobody names a cylinder.
    private const double Seen = 0.03;

    // Undoing and doing a joint heals one that comes and goes, for the time being.
    private const double HandlingHeals = 0.25;

    /// <summary>Swaps a part between the cylinder and one that the technician takes for good.</summary>
    public static Values Swap(Visit visit, Part part)
    {
        var cylinder = visit.At.First;
        var partner = Partner(visit, cylinder);
        var moved = Healed(visit, cylinder, part) ? null : Worst(visit, part, cylinder, partner);
        return new Values().Cylinder("swappedWith", partner).Cylinder("misfireMovedTo", moved);
    }

    private static int Partner(Visit visit, int cylinder)
    {
        var others = visit.Engine.Cylinders.Where(c => c != cylinder).ToList();
        var good = others.Where(c => visit.AsComplained(c) < Seen).ToList();
        return visit.Dice.OneOf(good.Count > 0 && visit.Dice.Chance(0.94) ? good : others);
    }

    private static bool Healed(Visit visit, int cylinder, Part part) =>
        part == Part.Coil
        && visit.Awake.Any(f => f.Duties.ContainsKey(cylinder) && f.Kind.Cause is "coil-feed-lost" or "coil-control-lost" && f.Presence < 1)
        && visit.Dice.Chance(HandlingHeals);

    private static int? Worst(Visit visit, Part part, int one, int other)
    {
        var shares = new[] { one, other }
            .Select(c => (Cylinder: c, Share: visit.AfterSwap(c, part, one, other) * visit.Dice.Factor(0.35)))
            .OrderByDescending(s => s.Share);
        var (cylinder, share) = shares.First();
        return share < Seen ? null : cylinder;
    }
}
