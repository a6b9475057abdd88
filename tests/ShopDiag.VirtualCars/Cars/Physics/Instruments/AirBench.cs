using ShopDiag.Diagnosis.BenchTests;

namespace ShopDiag.VirtualCars.Cars.Physics.Instruments;

/// <summary>Tests of the mixture.</summary>
internal static class AirBench
{
    public static IEnumerable<(string Test, Bay.Instrument Take)> All => [("fuel-trims", Trims), ("runner-temperature", Runner), ("egr-block", Egr), ("air-signal", AirSignal), ("enrichment", Enrichment)];

    /// <summary>Smoke at a cylinder's runner: seen when there is a leak worth the name.</summary>
    public static bool SmokeAt(Bay bay, int cylinder, Random random) => Seen(bay, bay.Engine[cylinder].RunnerLeakMm2, random);

    /// <summary>Smoke at plenum, hoses or throttle.</summary>
    public static bool SmokeCommon(Bay bay, Random random) => Seen(bay, bay.Engine.CommonLeakMm2, random);

    private static bool Seen(Bay bay, double mm2, Random random)
    {
        var seen = random.Happens(0.94 * Chance.Step(mm2 - 0.6, 0.08));
        return bay.Reader.Misjudges(random, 0.012) ? !seen : seen;
    }

    private static List<KeyValuePair<string, FieldValue>> Trims(Bay bay, int bank, Random random)
    {
        var fields = new List<KeyValuePair<string, FieldValue>>();
        foreach (var (name, condition) in new[] { ("idle", Condition.Idle), ("2500rpm", Condition.Speed) })
        {
            var total = 100 * bay.Driving.At(condition).Trims[bank - 1];
            var longTerm = total * random.Between(0.55, 0.9);
            fields.Add(Bay.Field($"{name}.shortPercent", Signed(bay, random, total - longTerm)));
            fields.Add(Bay.Field($"{name}.longPercent", Signed(bay, random, longTerm)));
        }

        return fields;
    }

    private static double Signed(Bay bay, Random random, double percent)
    {
        var read = random.Normal(percent, 1.0 * bay.Reader.Scatter);
        return Math.Round(Math.Sign(read) * bay.Reader.Written(random, Math.Abs(read)), 1, MidpointRounding.AwayFromZero);
    }

    // The first bend of the exhaust at idle: unburnt gas is cold, a lean flame a little hotter, and every reading depends on the spot aimed at.
    private static List<KeyValuePair<string, FieldValue>> Runner(Bay bay, int cylinder, Random random)
    {
        var firing = bay.Driving.At(Condition.Idle)[cylinder];
        var hot = 255 * (1 + (0.12 * Math.Clamp(firing.Lambda - 1, -0.3, 0.3))) * Math.Clamp(0.6 + (0.4 * firing.Push), 0.5, 1.1);
        var celsius = (hot * (1 - firing.Misfire)) + (95 * firing.Misfire);
        return [Bay.Field("celsius", bay.Read(random, celsius, 11))];
    }

    // A pull with the throttle wide open, or the manifold pressure beside a gauge: sound engines fill to 80 to 98 %, less behind a stopped exhaust or with the cams out of step.
    private static List<KeyValuePair<string, FieldValue>> AirSignal(Bay bay, int place, Random random)
    {
        var engine = bay.Engine;
        if (!engine.Build.MetersAir)
        {
            var gauge = random.Normal(38, 4);
            return [Bay.Field("sensor", "pressure"), Bay.Field("gaugeKPa", bay.Read(random, gauge, 0.4, 1)), Bay.Field("sensorKPa", bay.Read(random, gauge * (1 + engine.AirflowErrorLow), 0.4, 1))];
        }

        var litres = Math.Round(engine.Engine.CylinderCount * 0.5, 1);
        var rpm = random.Between(3200, 4800);
        var filling = random.Between(0.8, 0.98) * (1 - (0.35 * engine.Restriction.Average())) * (1 - (0.012 * engine.CamOff.Average(Math.Abs)));
        var unmetered = Math.Min(0.15, engine.CommonLeakMm2 * 0.002);
        var grams = filling * (1 - unmetered) * (1 + engine.AirflowErrorHigh) * litres / 2 * rpm / 60 * 1.184;
        return [Bay.Field("sensor", "air-mass"), Bay.Field("gramsPerSecond", bay.Read(random, grams, grams * 0.02, 1)), Bay.Field("rpm", Math.Round(rpm)), Bay.Field("litres", litres), Bay.Field("intakeCelsius", 25)];
    }

    // Gas from a little to the point where the sound cylinders are about to falter; the misfires of the cylinder are counted for some seconds at each step.
    private static List<KeyValuePair<string, FieldValue>> Enrichment(Bay bay, int cylinder, Random random)
    {
        const int Cycles = 60;
        var before = random.Count(Cycles, bay.Driving.At(bay.Shown)[cylinder].Misfire);
        var counts = new[] { 0.1, 0.2, 0.35, 0.5 }.Select(gas => random.Count(Cycles, Combustion.Enriched(bay.Engine, bay.Shown, gas)[cylinder].Misfire)).ToArray();
        var seen = before >= 5 && counts.Min() < before * 0.5 ? "less" : counts[0] > Math.Max(8, before * 1.6) || (before >= 5 && counts[1] > before * 1.6) ? "more" : "same";
        if (bay.Reader.Misjudges(random, 0.02))
        {
            seen = random.Of(["less", "same", "more"]);
        }

        return [Bay.Field("misfires", seen)];
    }

    private static List<KeyValuePair<string, FieldValue>>? Egr(Bay bay, int place, Random random)
    {
        if (!bay.Engine.Build.HasEgr && bay.Engine.EgrAtIdle < 0.01)
        {
            return null;
        }

        var blocked = bay.Engine.Copy();
        blocked.EgrAtIdle = 0;
        var gone = bay.Driving.At(Condition.Idle).Worst > Driving.Felt && Combustion.At(blocked, Condition.Idle).Worst <= Driving.Felt;
        return [Bay.Field("misfireGone", gone != bay.Reader.Misjudges(random, 0.02) ? "yes" : "no")];
    }
}
