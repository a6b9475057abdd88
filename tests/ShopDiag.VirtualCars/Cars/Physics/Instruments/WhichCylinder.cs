using ShopDiag.Diagnosis.BenchTests;

namespace ShopDiag.VirtualCars.Cars.Physics.Instruments;

/// <summary>Tests that show which cylinder does not pull.</summary>
internal static class WhichCylinder
{
    private const double BalanceRpm = 900;

    public static IEnumerable<(string Test, Bay.Instrument Take)> All =>
        [("misfire-counts", Counts), ("power-balance", Balance), ("road-check", Road)];

    // A thousand revolutions under the condition that shows it; the computer gives a few percent of a hard misfire's counts to the next to fire.
    private static List<KeyValuePair<string, FieldValue>> Counts(Bay bay, int cylinder, Random random)
    {
        var running = bay.Driving.At(bay.Shown);
        var order = bay.Engine.Engine.FiringOrder;
        var before = bay.Engine.Engine.FiresBefore(cylinder);
        var share = running[cylinder].Misfire + (order.Length > 1 && before != cylinder ? 0.015 * running[before].Misfire : 0);
        var firings = 500;
        var count = random.Count(firings, Math.Min(1, share)) + (random.Happens(0.25) ? random.Next(1, 4) : 0);
        return [Bay.Field("misfires", Math.Round(bay.Reader.Written(random, count))), Bay.Field("revolutions", 1000)];
    }

    // Two rounds. The drop follows the work that the cylinder adds over the two seconds of its cancellation.
    private static List<KeyValuePair<string, FieldValue>> Balance(Bay bay, int cylinder, Random random)
    {
        var n = bay.Engine.Engine.CylinderCount;
        var firing = bay.Driving.At(Condition.Idle)[cylinder];
        // Idle control left on hides most of the drop.
        var hidden = bay.Reader.SkipsStep(Chance.Stream(random.Next(), "round"), 0.01) ? 0.25 : 1;
        var full = BalanceRpm * 0.42 / n * hidden;
        var others = bay.Driving.At(Condition.Idle).Cylinders.Average(c => c.Misfire * (1 - c.Misfire));
        List<double> bases = [], cancelled = [];
        for (var i = 0; i < 2; i++)
        {
            var start = random.Normal(BalanceRpm, 5 * bay.Reader.Scatter);
            var burning = random.Count(15, 1 - firing.Misfire) / 15.0;
            var sigma = (full * 0.07) + 2 + (full * 0.5 * others);
            bases.Add(Math.Round(bay.Reader.Written(random, start)));
            cancelled.Add(Math.Round(bay.Reader.Written(random, start - random.Normal(full * firing.Push * burning, sigma * bay.Reader.Scatter))));
        }

        return [Bay.Field("baseRpm", [.. bases]), Bay.Field("cancelledRpm", [.. cancelled])];
    }

    private static List<KeyValuePair<string, FieldValue>> Road(Bay bay, int place, Random random) =>
        [Bay.Field("conditions", [.. bay.Driving.Words(random, named: 0.8, slip: 0.03)])];
}
