using ShopDiag.Diagnosis.BenchTests;

namespace ShopDiag.VirtualCars.Cars.Physics.Instruments;

/// <summary>Tests of the engine as a whole.</summary>
internal static class EngineBench
{
    public static IEnumerable<(string Test, Bay.Instrument Take)> All =>
    [
        ("manifold-vacuum", Vacuum), ("exhaust-backpressure", Backpressure), ("system-voltage", Voltage), ("cam-timing", CamTiming),
        ("combustion-gas-in-coolant", CombustionGas), ("crank-signal", CrankSignal),
    ];

    private static List<KeyValuePair<string, FieldValue>> Vacuum(Bay bay, int place, Random random)
    {
        var engine = bay.Engine;
        var idle = bay.Driving.At(Condition.Idle);
        var share = idle.Cylinders.Average(c => c.Contribution);
        var leak = engine.CommonLeakMm2 / engine.Engine.CylinderCount;
        var cam = engine.CamOff.Average(c => Math.Max(0, Math.Abs(c) - 3));
        var kPa = 66 - (22 * (1 - Math.Clamp(share, 0.4, 1))) - (3.2 * leak) - (45 * engine.EgrAtIdle) - (0.55 * cam) - (5 * engine.Restriction.Max());
        var needle = Needle(bay, idle, kPa, random);
        return [Bay.Field("kPa", bay.Read(random, kPa, 1.2)), Bay.Field("needle", bay.Reader.Misjudges(random, 0.04) ? random.Of(["steady", "drifts", "drops-at-times"]) : needle)];
    }

    private static string Needle(Bay bay, Running idle, double kPa, Random random)
    {
        var leaking = bay.Engine.Cylinders.Max(c => Math.Max(c.IntakeLeak(true) * 1.5, Math.Max(c.ExhaustLeak(true), c.NeighbourLeakMm2)));
        if (leaking > 3 || idle.Cylinders.Count(c => c.Misfire > 0.85) is > 0 and < 3)
        {
            return random.Happens(0.8) ? "drops-regularly" : "steady";
        }

        if (idle.Worst > 0.04)
        {
            return random.Happens(0.8) ? "drops-at-times" : "drifts";
        }

        if (bay.Engine.Cylinders.Any(c => c.SpringWeakness > 0.4))
        {
            return random.Happens(0.7) ? "flutters" : "steady";
        }

        if (bay.Engine.Restriction.Max() > 0.4)
        {
            return random.Happens(0.5) ? "drifts" : "low-steady";
        }

        return kPa < 55 ? "low-steady" : "steady";
    }

    private static List<KeyValuePair<string, FieldValue>> Backpressure(Bay bay, int place, Random random)
    {
        var restriction = place > 0 ? bay.Engine.Restriction[place - 1] : bay.Engine.Restriction.Max();
        return
        [
            Bay.Field("kPaAtIdle", bay.Read(random, 2.5 + (14 * restriction * restriction), 0.6, 1)),
            Bay.Field("kPaAt2500", bay.Read(random, 7 + (48 * restriction * restriction), 1.2, 1)),
        ];
    }

    private static List<KeyValuePair<string, FieldValue>> Voltage(Bay bay, int place, Random random) =>
        [Bay.Field("volts", bay.Read(random, bay.Engine.SystemVolts, 0.05, 1)), Bay.Field("groundDropVolts", bay.Read(random, bay.Engine.GroundDropVolts, 0.01, 2))];

    // The bank as the test takes it; read for the engine, the worst bank decides.
    private static List<KeyValuePair<string, FieldValue>> CamTiming(Bay bay, int place, Random random)
    {
        var off = place > 0 ? Math.Abs(bay.Engine.CamOff[place - 1]) : bay.Engine.CamOff.Max(Math.Abs);
        var seen = random.Happens(off > 7 ? 0.95 : 0.005);
        return [Bay.Field("correlation", seen != bay.Reader.Misjudges(random, 0.01) ? "off" : "good")];
    }

    // A minute warm, with the wires wiggled and the sensor heated: a fault that comes with heat is caught most times.
    private static List<KeyValuePair<string, FieldValue>> CrankSignal(Bay bay, int place, Random random)
    {
        var seen = random.Happens(bay.Engine.CrankDropout > 0.01 ? 0.95 : bay.Engine.CrankDropoutHot > 0.01 ? 0.8 : 0.005);
        return [Bay.Field("signal", seen != bay.Reader.Misjudges(random, 0.01) ? "drops-out" : "even")];
    }

    private static List<KeyValuePair<string, FieldValue>> CombustionGas(Bay bay, int place, Random random)
    {
        var leak = bay.Engine.Cylinders.Sum(c => c.CoolantLeakMm2) + (0.02 * bay.Engine.Cylinders.Sum(c => c.NeighbourLeakMm2));
        var found = random.Happens(leak > 0.1 ? 0.94 : 0.01);
        return [Bay.Field("found", found != bay.Reader.Misjudges(random, 0.008) ? "yes" : "no")];
    }
}
