using ShopDiag.Diagnosis.BenchTests;

namespace ShopDiag.VirtualCars.Cars.Physics.Instruments;

/// <summary>Tests of how a cylinder seals.</summary>
internal static class SealBench
{
    private const double CrankingRpm = 220;

    /// <summary>Area of the usual 0.040 in restrictor in mm2 (FAA AC 43.13-1B), and its diameter.</summary>
    private const double RestrictorMm2 = 0.811;
    private const double RestrictorMm = 1.02;
    private const double SupplyKPa = 552;
    private const double OutsideKPa = 101.3;

    public static IEnumerable<(string Test, Bay.Instrument Take)> All =>
    [
        ("compression-dry", Dry), ("compression-wet", Wet), ("compression-running", Running), ("cranking-current", Current), ("leak-down", LeakDown),
    ];

    private static double Cranking(Bay bay, int cylinder, double sealedByOil = 0)
    {
        var c = bay.Engine[cylinder];
        var oil = (sealedByOil * 0.75 * c.RingLeakMm2) + (sealedByOil * 0.12 * c.HoleMm2);
        return bay.Engine.Build.CompressionKPa * Breathing.Kept(c.Leak(true) - oil, CrankingRpm) * Math.Max(0.08, Breathing.Filling(bay.Engine, c, CrankingRpm));
    }

    private static List<KeyValuePair<string, FieldValue>> Dry(Bay bay, int cylinder, Random random) =>
        [Bay.Field("kPa", Gauge(bay, random, Cranking(bay, cylinder)))];

    // A gauge scatters by a share of what it shows and a little besides, and is read to 5 kPa.
    private static double Gauge(Bay bay, Random random, double kPa) => Math.Round(bay.Read(random, kPa, 6 + (0.016 * kPa)) / 5) * 5;

    private static List<KeyValuePair<string, FieldValue>> Wet(Bay bay, int cylinder, Random random)
    {
        var kPa = Cranking(bay, cylinder, sealedByOil: bay.Reader.SkipsStep(random, 0.02) ? 0.3 : 1) * random.Between(1.01, 1.05);
        return [Bay.Field("kPa", Gauge(bay, random, kPa))];
    }

    private static List<KeyValuePair<string, FieldValue>> Running(Bay bay, int cylinder, Random random)
    {
        var c = bay.Engine[cylinder];
        var trapped = Math.Exp(-Math.Max(0, c.ExhaustLift) / 0.12);
        var idle = 430 * Breathing.Filling(bay.Engine, c, 750) * Breathing.Kept(c.Leak(true), 750) * (1 + (0.9 * trapped));
        var snap = 950 * Breathing.Filling(bay.Engine, c, 2200) * Breathing.Kept(c.Leak(true), 1800);
        return [Bay.Field("idleKPa", bay.Read(random, idle, 15)), Bay.Field("snapKPa", bay.Read(random, snap, 40))];
    }

    // Starter current follows the compression of each cylinder; only the comparison counts.
    private static List<KeyValuePair<string, FieldValue>> Current(Bay bay, int cylinder, Random random)
    {
        var best = bay.Engine.Engine.Cylinders.Max(c => Cranking(bay, c));
        return [Bay.Field("relativePercent", Math.Min(100, bay.Read(random, 100 * Cranking(bay, cylinder) / best, 2.5)))];
    }

    private static List<KeyValuePair<string, FieldValue>> LeakDown(Bay bay, int cylinder, Random random)
    {
        var c = bay.Engine[cylinder];
        // A piston that is not quite at the top adds a leak of its own past rings that do not seat.
        var leak = c.Leak(true) + (random.Happens(0.05) ? random.Between(0.05, 0.25) : 0);
        var percent = Math.Clamp(bay.Read(random, Percent(leak), 1.2), 0, 100);
        return
        [
            Bay.Field("percent", percent), Bay.Field("hear", Heard(bay, c, random)),
            Bay.Field("supplyKPa", SupplyKPa), Bay.Field("restrictorMm", RestrictorMm),
        ];
    }

    /// <summary>
    /// Percent that a leak shows: the same mass flows through restrictor and leak, each by the law of compressible flow (choked below a pressure ratio of
    /// 0.528), solved for the pressure between.
    /// </summary>
    public static double Percent(double leakMm2)
    {
        var (low, high) = (0.0, SupplyKPa);
        for (var i = 0; i < 40; i++)
        {
            var kPa = (low + high) / 2;
            var into = RestrictorMm2 * (SupplyKPa + OutsideKPa) * Flow((kPa + OutsideKPa) / (SupplyKPa + OutsideKPa));
            var outOf = leakMm2 * (kPa + OutsideKPa) * Flow(OutsideKPa / (kPa + OutsideKPa));
            (low, high) = into > outOf ? (kPa, high) : (low, kPa);
        }

        return 100 * (SupplyKPa - low) / SupplyKPa;
    }

    private static double Flow(double ratio)
    {
        const double Gamma = 1.4;
        var r = Math.Max(0.52828, ratio);
        return Math.Sqrt(Math.Max(0, 2 * Gamma / (Gamma - 1) * (Math.Pow(r, 2 / Gamma) - Math.Pow(r, (Gamma + 1) / Gamma))));
    }

    // Where the most air comes out, as loud as the area; below a hiss nothing is heard.
    private static string Heard(Bay bay, CylinderState c, Random random)
    {
        (string Word, double Mm2)[] ways =
        [
            ("intake", c.IntakeLeak(true)), ("exhaust", c.ExhaustLeak(true)), ("crankcase", 0.5 * (c.RingLeakMm2 + c.HoleMm2)),
            ("coolant", 3 * c.CoolantLeakMm2), ("neighbour", c.NeighbourLeakMm2),
        ];
        var loudest = ways.MaxBy(w => w.Mm2 * random.Between(0.75, 1.25));
        if (bay.Reader.Misjudges(random, 0.025))
        {
            return random.Of(["none", "intake", "exhaust", "crankcase"]);
        }

        return loudest.Mm2 > random.Between(0.2, 0.4) ? loudest.Word : "none";
    }
}
