namespace ShopDiag.VirtualCars.Cars.Garage.Bench;

/// <summary>Ignition, from the feed to the plug's place. Numbers made-up unless marked.</summary>
internal static class SparkTests
{
    /// <summary>A spark tester in place of the plug.</summary>
    public static Values Spark(Visit visit)
    {
        // What is left of the spark, against what the tester's gap asks for.
        var left = 1 - visit.Here.SparkLoss + visit.Scatter(0.045);
        var asked = 0.5 + (0.008 * (visit.Shop.TesterGapMm - 20));
        var jumps = left > asked + 0.12 ? "steady" : left > 0.16 ? "weak" : "none";
        return new Values().Number("gapMm", visit.Shop.TesterGapMm).Words("jumps", jumps);
    }

    /// <summary>The trigger signal at the coil.</summary>
    public static Values Control(Visit visit)
    {
        var loss = visit.Here.ControlLoss + visit.Scatter(0.04);
        return new Values().Words("signal", loss > 0.8 ? "absent" : loss > 0.22 ? "erratic" : "present");
    }

    /// <summary>Voltage at the coil's feed, loaded.</summary>
    public static Values Feed(Visit visit)
    {
        var battery = 12.4 - (0.5 * visit.Body.Common.SupplyDropVolts);
        var volts = (battery * (1 - visit.Here.FeedLoss)) + visit.Shop.MeterVolts + visit.Scatter(0.12);
        return new Values().Number("volts", Math.Max(0, volts), 2);
    }

    /// <summary>The coil's windings.</summary>
    public static Values Resistance(Visit visit)
    {
        var celsius = visit.Shop.Celsius + visit.Round.Between(0, 25);
        var warm = 1 + (0.00393 * (celsius - 20));
        return new Values()
            .Number("primaryOhm", Ohm(Built(visit, visit.Maker.PrimaryOhm) * warm, visit.Here.PrimaryOff, visit.Shop.LeadOhm * 0.4, visit.Scatter(0.02)), 2)
            .Number("secondaryOhm", Ohm(Built(visit, visit.Maker.SecondaryOhm) * warm, visit.Here.SecondaryOff, 0, visit.Scatter(0.025)))
            .Number("celsius", celsius);
    }

    /// <summary>Ohms as a meter shows them; a meter that shows overload is written as a million (the test's own instruction).</summary>
    public static double Ohm(double sound, double off, double leads, double scatter) =>
        off > 50 ? 1_000_000 : Math.Max(0, (sound * (1 + off) * (1 + scatter)) + leads);

    // Somewhere in the middle of the maker's range, the same for all coils of a car.
    private static double Built(Visit visit, (double Min, double Max) range) => range.Min + ((range.Max - range.Min) * visit.Wear.CoilBuilt);
}
