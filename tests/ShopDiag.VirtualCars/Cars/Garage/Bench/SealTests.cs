namespace ShopDiag.VirtualCars.Cars.Garage.Bench;

/// <summary>Compression in its forms, and where it goes. Numbers made-up unless marked.</summary>
internal static class SealTests
{
    // Cranking is slow: a leak takes more of the charge than of a running engine's, and the first tenth is in every reading.
    private const double CrankLeak = 0.95;

    /// <summary>The gauge, dry.</summary>
    public static Values Dry(Visit visit) =>
        new Values().Number("kPa", Round5(DryKPa(visit, visit.Here, 0) + visit.Scatter(visit.Wear.CompressionKPa * 0.016)));

    /// <summary>The gauge, after a spoonful of oil.</summary>
    public static Values Wet(Visit visit)
    {
        // Oil takes up room and seals a little in a sound bore too.
        var oil = 1 + visit.Dice.Between(0.005, 0.04);
        var kPa = (DryKPa(visit, visit.Here, visit.Here.OilSeals) * oil) + visit.Scatter(visit.Wear.CompressionKPa * 0.018);
        return new Values().Number("kPa", Round5(kPa));
    }

    /// <summary>The gauge, the engine running on the other cylinders.</summary>
    public static Values Running(Visit visit)
    {
        var c = visit.Here;
        var full = visit.Wear.CompressionKPa;
        var idle = full * 0.42 * (1 - (0.75 * c.Leaks)) * (1 - c.IdleFillLoss);
        var snap = full * 0.74 * (1 - (0.45 * c.Leaks)) * (1 - c.SnapFillLoss);
        return new Values()
            .Number("idleKPa", Round5(Math.Max(0, idle * visit.Shop.GaugeShows) + visit.Scatter(full * 0.014)))
            .Number("snapKPa", Round5(Math.Max(0, snap * visit.Shop.GaugeShows) + visit.Scatter(full * 0.03)));
    }

    /// <summary>The starter's current peaks against the best cylinder's.</summary>
    public static Values Cranking(Visit visit)
    {
        var best = visit.Engine.Cylinders.Max(c => DryKPa(visit, visit.Body[c], 0));
        var share = (100 * DryKPa(visit, visit.Here, 0) / best) - 1.5;
        // The highest hump of the run is called 100.
        return new Values().Number("relativePercent", Math.Clamp(share + visit.Scatter(2.2), 0, 100));
    }

    /// <summary>Leak-down with the piston at the top.</summary>
    public static Values LeakDown(Visit visit)
    {
        var percent = (100 * visit.Here.Leaks) + visit.Shop.LeakPoints + visit.Scatter(1.6);
        var values = new Values().Number("percent", Math.Max(0, percent)).Words("hear", Heard(visit));
        // 80 psi and 0.040 in are the usual tester (FAA AC 43.13-1B 8-14).
        return visit.Shop.WritesTester ? values.Number("supplyKPa", 552).Number("restrictorMm", 1.02, 2) : values;
    }

    private static string Heard(Visit visit)
    {
        var c = visit.Here;
        // Every engine breathes a little into its crankcase: only more than that is heard as a leak.
        var ways = new[]
        {
            ("intake", c.ToIntake), ("exhaust", c.ToExhaust), ("crankcase", c.ToCrankcase - 0.05), ("coolant", c.ToCoolant * 1.3), ("neighbour", c.ToNeighbour),
        };
        var (where, strength) = ways
            .Select(w => (w.Item1, Strength: (w.Item2 * visit.Dice.Factor(0.3)) + visit.Scatter(0.015)))
            .MaxBy(w => w.Strength);
        return strength + visit.Shop.Ear > 0.1 ? where : "none";
    }

    private static double DryKPa(Visit visit, CylinderBody c, double oil)
    {
        var sound = 1 - ((1 - c.ToCrankcase) * (1 - c.ToExhaust) * (1 - c.ToIntake) * (1 - c.ToCoolant) * (1 - c.ToNeighbour));
        // Oil seals past the rings and nowhere else.
        var oiled = 1 - ((1 - (c.ToCrankcase * (1 - oil))) * (1 - c.ToExhaust) * (1 - c.ToIntake) * (1 - c.ToCoolant) * (1 - c.ToNeighbour));
        var leak = oil > 0 ? oiled : sound;
        return visit.Wear.CompressionKPa * visit.Shop.GaugeShows * (1 - Math.Max(0, CrankLeak * (leak - 0.06))) * (1 - c.CrankFillLoss);
    }

    // Needle gauges are read to the nearest five.
    private static double Round5(double kPa) => Math.Max(0, 5 * Math.Round(kPa / 5, MidpointRounding.AwayFromZero));
}
