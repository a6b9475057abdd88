using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.VirtualCars.Cars.Physics.Instruments;

/// <summary>Tests of injectors and fuel supply.</summary>
internal static class FuelBench
{
    public static IEnumerable<(string Test, Bay.Instrument Take)> All =>
    [
        ("injector-sound", EachInjector(Sound)), ("injector-resistance", EachInjector(Resistance)), ("injector-control", EachInjector(Control)),
        ("injector-drop", EachInjector(Drop)), ("fuel-pressure", Pressure), ("fuel-sample", Sample),
    ];

    private static Bay.Instrument EachInjector(Bay.Instrument take) => (bay, at, random) =>
        bay.Engine.Engine.Injection == Injection.ThrottleBody ? null : take(bay, at, random);

    private static List<KeyValuePair<string, FieldValue>> Sound(Bay bay, int cylinder, Random random)
    {
        var c = bay.Engine[cylinder];
        var pulses = c.InjectorControl * (1 - (c.InjectorDropoutHot * 0.2));
        var sound = c.InjectorSteadyOn || pulses < 0.05 || c.InjectorWinding == Winding.Open ? "silent"
            : c.NeedleSticks || c.InjectorWinding == Winding.ShortedTurns || pulses < 0.85 ? (random.Happens(0.75) ? "different" : "ticking")
            : "ticking";
        var direct = bay.Engine.Engine.Injection == Injection.Direct;
        if (bay.Reader.Misjudges(random, direct ? 0.045 : 0.025))
        {
            sound = sound == "ticking" ? "different" : "ticking";
        }

        return [Bay.Field("sound", sound)];
    }

    private static List<KeyValuePair<string, FieldValue>> Resistance(Bay bay, int cylinder, Random random)
    {
        var c = bay.Engine[cylinder];
        var celsius = 45.0;
        var ohm = c.InjectorWinding == Winding.Open ? 1e6 : c.InjectorOhm * (1 + (0.00393 * (celsius - 20)));
        return [Bay.Field("ohm", bay.Read(random, ohm, ohm > 1e5 ? 0 : 0.1, 1)), Bay.Field("celsius", celsius)];
    }

    private static List<KeyValuePair<string, FieldValue>> Control(Bay bay, int cylinder, Random random)
    {
        var c = bay.Engine[cylinder];
        var seen = random.Count(40, c.InjectorControl) / 40.0;
        // A light that goes out at times is not pulsing like the others.
        var signal = c.InjectorSteadyOn ? "steady-on" : seen < 0.8 ? "absent" : "pulsing";
        if (bay.Reader.Misjudges(random, 0.01))
        {
            signal = signal == "pulsing" ? "absent" : "pulsing";
        }

        return [Bay.Field("signal", signal)];
    }

    // A fixed number of pulses lets the rail down; the drop follows what the injector passes.
    private static List<KeyValuePair<string, FieldValue>> Drop(Bay bay, int cylinder, Random random)
    {
        var c = bay.Engine[cylinder];
        var rail = bay.Engine.Build.RailKPa * bay.Engine.RailShare;
        var driven = c.InjectorWinding switch { Winding.Open => 0, Winding.ShortedTurns => Math.Min(0.35, c.Flow), _ => c.Flow };
        var passed = (driven * (c.InjectorSteadyOn ? 0 : c.InjectorControl)) + (0.5 * c.Drip);
        var start = random.Normal(rail, 2);
        var end = Math.Max(0, start - (0.18 * bay.Engine.Build.RailKPa * Math.Min(3, passed)));
        return [Bay.Field("startKPa", bay.Read(random, start, 1)), Bay.Field("endKPa", bay.Read(random, end, 2))];
    }

    private static List<KeyValuePair<string, FieldValue>> Pressure(Bay bay, int place, Random random)
    {
        var rail = bay.Engine.Build.RailKPa * bay.Engine.RailShare;
        // A weak pump shows under load; who reads at idle only does not see it.
        var lowest = bay.Reader.SkipsStep(random, 0.08) ? rail : Math.Min(rail, rail * bay.Engine.RailShareAtFlow);
        return [Bay.Field("kPa", bay.Read(random, lowest, 4)), Bay.Field("afterFiveMinutesKPa", bay.Read(random, rail * bay.Engine.RailHolds, 4))];
    }

    private static List<KeyValuePair<string, FieldValue>> Sample(Bay bay, int place, Random random)
    {
        var seen = bay.Engine.WaterInFuel ? random.Happens(0.95) ? "water" : "clean" : bay.Engine.FuelQuality < 0.95 && random.Happens(0.93) ? "other" : "clean";
        return [Bay.Field("seen", bay.Reader.Misjudges(random, 0.01) ? random.Of(["clean", "water", "other"]) : seen)];
    }
}
