namespace ShopDiag.VirtualCars.Cars.Garage.Bench;

/// <summary>The tests that show which cylinder does not pull. Numbers made-up unless marked.</summary>
internal static class PullTests
{
    // What a charge that leaked away costs the pull of a cylinder that still fires.
    private const double LeakCostsPull = 0.55;

    /// <summary>Power balance: speed before and while one cylinder is cancelled.</summary>
    public static Values Balance(Visit visit)
    {
        var trials = visit.Dice.Chance(0.75) ? 2 : 3;
        var bases = new double[trials];
        var lowest = new double[trials];
        var lost = visit.Engine.Cylinders.Sum(visit.AtIdle);
        // Rough running also makes the speed unsteady.
        var noise = (1.5 + (visit.Wear.DropRpm * 0.04) + (2 * Math.Min(1, lost))) * visit.Wear.Unsteady;
        for (var i = 0; i < trials; i++)
        {
            bases[i] = visit.Wear.IdleRpm - (0.5 * visit.Wear.DropRpm * Math.Min(3, lost)) + visit.Scatter(noise);
            lowest[i] = bases[i] - (visit.Wear.DropRpm * Pull(visit, visit.At.First) * (1 - visit.Shop.IdleControlHides)) + visit.Scatter(noise);
        }

        return new Values().Numbers("baseRpm", bases).Numbers("cancelledRpm", lowest);
    }

    /// <summary>Misfire counters over one run.</summary>
    public static Values Counts(Visit visit)
    {
        var cylinder = visit.At.First;
        var revolutions = visit.Round.OneOf([1000, 1000, 1000, 500, 2000]);
        var firings = revolutions / 2;
        // A fault is not equally busy in every run.
        var share = Math.Min(1, visit.AsComplained(cylinder) * visit.Round.Factor(0.2) * visit.Dice.Factor(0.15));
        // The crank's jolt after a miss is now and then laid to the cylinder that fires next.
        var before = visit.AsComplained(visit.Engine.FiresBefore(cylinder));
        var laid = before * 0.03 * visit.Dice.Share();
        var wrong = visit.Wear.FalseCounts + (visit.Shakes ? 0.006 * visit.Dice.Share() : 0) + (0.01 * visit.Body.Common.CrankSignalLoss);
        var counted = visit.Dice.Count(firings, (share * visit.Dice.Between(0.85, 1)) + laid + wrong);
        return new Values().Number("misfires", counted).Number("revolutions", revolutions);
    }

    private static double Pull(Visit visit, int cylinder)
    {
        var body = visit.Body[cylinder];
        var fills = (1 - (LeakCostsPull * body.Leaks)) * (1 - body.IdleFillLoss) * (1 - (0.5 * body.FuelLack));
        // What the cylinder lacks by misfiring it does not lack twice.
        return (1 - visit.AtIdle(cylinder)) * Math.Max(0.6, fills) * visit.Dice.Between(0.94, 1.06);
    }
}
