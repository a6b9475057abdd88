using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Quantities;

namespace ShopDiag.VirtualCars.Cars.Physics.Instruments;

/// <summary>Tests of coils, their wiring and the plugs.</summary>
internal static class IgnitionBench
{
    private const double TesterGapMm = 20;

    public static IEnumerable<(string Test, Bay.Instrument Take)> All =>
    [
        ("spark-output", Output), ("coil-feed", Feed), ("coil-control", Control), ("coil-resistance", Resistance), ("plug-condition", Plug), ("leads-and-cap", Leads),
    ];

    private static List<KeyValuePair<string, FieldValue>> Output(Bay bay, int cylinder, Random random)
    {
        var (share, spare) = Spark.OnTester(bay.Engine, bay.Engine[cylinder], NeedleGap.Kilovolts(TesterGapMm));
        // Some thirty sparks are watched.
        var seen = random.Count(30, share) / 30.0;
        var jumps = seen < 0.07 ? "none" : seen < 0.95 || spare < 1.06 ? "weak" : "steady";
        if (bay.Reader.Misjudges(random, 0.012))
        {
            jumps = jumps == "weak" ? "steady" : "weak";
        }

        return [Bay.Field("gapMm", TesterGapMm), Bay.Field("jumps", jumps)];
    }

    // A lead or terminal that costs many kilovolts can usually be seen; what hits all of them sits in the cap.
    private static List<KeyValuePair<string, FieldValue>>? Leads(Bay bay, int cylinder, Random random)
    {
        if (bay.Engine.Engine.Ignition == Ignition.CoilOnPlug)
        {
            return null;
        }

        var lost = bay.Engine.Engine.Cylinders.Select(c => bay.Engine[c].LeadKilovolts).Order().ToArray();
        var seen = bay.Engine[cylinder].LeadKilovolts > 5 && random.Happens(0.7);
        var look = !seen ? "sound" : lost[lost.Length / 2] > 2.5 ? "terminal-burnt" : "lead-damaged";
        return [Bay.Field("seen", bay.Reader.Misjudges(random, 0.015) ? look == "sound" ? "terminal-burnt" : "sound" : look)];
    }

    private static List<KeyValuePair<string, FieldValue>>? Feed(Bay bay, int cylinder, Random random)
    {
        if (bay.Engine.Engine.Ignition == Ignition.Distributor)
        {
            return null;
        }

        var c = bay.Engine[cylinder];
        var present = random.Happens(c.FeedPresent);
        var battery = Math.Min(12.5, bay.Engine.SystemVolts) - bay.Engine.GroundDropVolts;
        // A corroded joint shows only under load.
        var drop = bay.Reader.SkipsStep(random, 0.1) ? c.FeedDropVolts * c.FeedDropUnloadedShare : c.FeedDropVolts;
        return [Bay.Field("volts", bay.Read(random, present ? battery - drop : 0.05, 0.08, 1))];
    }

    private static List<KeyValuePair<string, FieldValue>>? Control(Bay bay, int cylinder, Random random)
    {
        if (bay.Engine.Engine.Ignition == Ignition.Distributor)
        {
            return null;
        }

        var share = bay.Engine[cylinder].ControlPresent * (1 - bay.Engine.CrankDropout);
        var seen = random.Count(40, share) / 40.0;
        var signal = seen < 0.05 ? "absent" : seen < 0.93 ? "erratic" : "present";
        if (bay.Reader.Misjudges(random, 0.012))
        {
            signal = signal == "present" ? "erratic" : "present";
        }

        return [Bay.Field("signal", signal)];
    }

    private static List<KeyValuePair<string, FieldValue>>? Resistance(Bay bay, int cylinder, Random random)
    {
        if (!bay.Engine.Build.CoilsMeasurable)
        {
            return null;
        }

        var c = bay.Engine[cylinder];
        var celsius = Math.Round(random.Normal(30, 5));
        var warm = 1 + (0.00393 * (celsius - 20));
        var (primary, secondary) = c.CoilWinding switch
        {
            Winding.Open => (0.62, 1e6),
            Winding.ShortedTurns => (0.60, 9500 * Math.Clamp(c.CoilKilovolts / 38, 0.2, 0.7)),
            _ => (0.62, 9500),
        };
        var scatter = random.Normal(1, 0.015);
        return
        [
            Bay.Field("primaryOhm", bay.Read(random, primary * warm * scatter, 0.02, 2)),
            Bay.Field("secondaryOhm", Math.Round(bay.Read(random, Math.Min(1e6, secondary * warm * scatter), secondary > 5e5 ? 0 : 120) / 10) * 10),
            Bay.Field("celsius", celsius),
        ];
    }

    private static List<KeyValuePair<string, FieldValue>> Plug(Bay bay, int cylinder, Random random)
    {
        var look = PlugFace.Look(bay, cylinder, random);
        return [Bay.Field("look", look), Bay.Field("well", PlugFace.Well(bay, cylinder, random)), Bay.Field("gapMm", bay.Read(random, bay.Engine[cylinder].GapMm, 0.04, 2))];
    }
}
