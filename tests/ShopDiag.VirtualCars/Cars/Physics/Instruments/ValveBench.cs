using ShopDiag.Diagnosis.BenchTests;

namespace ShopDiag.VirtualCars.Cars.Physics.Instruments;

/// <summary>Tests of the valve gear, and the look into the cylinder.</summary>
internal static class ValveBench
{
    public static IEnumerable<(string Test, Bay.Instrument Take)> All =>
        [("valve-lift", Lift), ("valve-clearance", Clearance), ("valve-springs", Springs), ("borescope", Borescope), ("intake-ports", Ports)];

    private static List<KeyValuePair<string, FieldValue>> Lift(Bay bay, int cylinder, Random random)
    {
        var c = bay.Engine[cylinder];
        return [Bay.Field("intakeMm", bay.Read(random, 9.4 * c.IntakeLift, 0.12, 1)), Bay.Field("exhaustMm", bay.Read(random, 9.0 * c.ExhaustLift, 0.12, 1))];
    }

    private static List<KeyValuePair<string, FieldValue>>? Clearance(Bay bay, int cylinder, Random random)
    {
        var c = bay.Engine[cylinder];
        return bay.Engine.Build.Hydraulic
            ? null
            : [Bay.Field("intakeMm", bay.Read(random, Math.Max(0, c.IntakeClearanceMm), 0.012, 2)), Bay.Field("exhaustMm", bay.Read(random, Math.Max(0, c.ExhaustClearanceMm), 0.012, 2))];
    }

    // A spring softer by a tenth shows on the tester, one much softer is often broken and seen.
    private static List<KeyValuePair<string, FieldValue>> Springs(Bay bay, int cylinder, Random random)
    {
        var weakness = bay.Engine[cylinder].SpringWeakness;
        var seen = weakness > random.Normal(0.35, 0.1) ? weakness > random.Normal(0.9, 0.1) ? "broken" : "weak" : "firm";
        return [Bay.Field("seen", bay.Reader.Misjudges(random, 0.012) ? seen == "firm" ? "weak" : "firm" : seen)];
    }

    // Seen from behind, each cylinder is held against the others: what all carry alike is a coat.
    private static List<KeyValuePair<string, FieldValue>> Ports(Bay bay, int cylinder, Random random)
    {
        var heavy = bay.Engine[cylinder].Deposits > random.Normal(0.65, 0.06);
        return [Bay.Field("seen", heavy != bay.Reader.Misjudges(random, 0.01) ? "heavy" : "clean")];
    }

    private static List<KeyValuePair<string, FieldValue>> Borescope(Bay bay, int cylinder, Random random)
    {
        var c = bay.Engine[cylinder];
        var seen = Seen(c, random);
        return [Bay.Field("seen", bay.Reader.Misjudges(random, 0.03) ? random.Of(["normal", "deposits", "wet-oil", "valve-burnt"]) : seen)];
    }

    private static string Seen(CylinderState c, Random random)
    {
        if (c.PistonBroken && random.Happens(0.95))
        {
            return "piston-damage";
        }

        if (c.CoolantLeakMm2 > 0.05 && random.Happens(0.8))
        {
            return "wet-coolant";
        }

        if (Math.Max(c.ExhaustLeak(true), c.IntakeLeak(true)) > 3 && random.Happens(0.75))
        {
            return "valve-burnt";
        }

        if (c.WallScored && random.Happens(0.9))
        {
            return "wall-scored";
        }

        if (c.Mark == PlugMark.Oil && random.Happens(0.8))
        {
            return "wet-oil";
        }

        return c.Deposits > random.Normal(0.65, 0.12) ? "deposits" : "normal";
    }
}
