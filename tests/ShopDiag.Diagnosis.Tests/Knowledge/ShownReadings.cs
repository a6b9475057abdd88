using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.Diagnosis.Tests.KnowledgeFiles;

/// <summary>Readings that make the tests come out as asked, so that a proof or a contradiction of the knowledge can be played through.</summary>
internal static class ShownReadings
{
    private static readonly Dictionary<(string Test, string Outcome), (string Field, FieldValue Value)[]> Values = new()
    {
        [("power-balance", "contributing")] = [Numbers("baseRpm", 702, 700), Numbers("cancelledRpm", 641, 639)],
        [("power-balance", "weak")] = [Numbers("baseRpm", 702, 700), Numbers("cancelledRpm", 670, 668)],
        [("power-balance", "dead")] = [Numbers("baseRpm", 702, 700), Numbers("cancelledRpm", 700, 698)],
        [("misfire-counts", "clean")] = [Numbers("misfires", 1), Numbers("revolutions", 1000)],
        [("misfire-counts", "misfiring")] = [Numbers("misfires", 400), Numbers("revolutions", 1000)],
        [("spark-output", "strong")] = [Numbers("gapMm", 20), Text("jumps", "steady")],
        [("spark-output", "weak")] = [Numbers("gapMm", 20), Text("jumps", "weak")],
        [("spark-output", "none")] = [Numbers("gapMm", 20), Text("jumps", "none")],
        [("coil-feed", "good")] = [Numbers("volts", 12.4)],
        [("coil-feed", "low")] = [Numbers("volts", 7)],
        [("coil-feed", "none")] = [Numbers("volts", 0.1)],
        [("injector-resistance", "within")] = [Numbers("ohm", 12.4), Numbers("celsius", 25)],
        [("injector-resistance", "open")] = [Numbers("ohm", 90000), Numbers("celsius", 25)],
        [("injector-resistance", "shorted")] = [Numbers("ohm", 0.2), Numbers("celsius", 25)],
        [("injector-resistance", "out")] = [Numbers("ohm", 25), Numbers("celsius", 25)],
        [("runner-temperature", "even")] = [Numbers("celsius", 240)],
        [("runner-temperature", "cold")] = [Numbers("celsius", 90)],
        [("runner-temperature", "hot")] = [Numbers("celsius", 380)],
        [("coil-resistance", "within")] = [Numbers("primaryOhm", 0.6), Numbers("celsius", 20)],
        [("coil-resistance", "open")] = [Numbers("primaryOhm", 1000000), Numbers("celsius", 20)],
        [("coil-resistance", "shorted")] = [Numbers("primaryOhm", 0.02), Numbers("celsius", 20)],
        [("coil-resistance", "out")] = [Numbers("primaryOhm", 1.6), Numbers("celsius", 20)],
        [("injector-drop", "even")] = [Numbers("startKPa", 379), Numbers("endKPa", 314)],
        [("injector-drop", "low-delivery")] = [Numbers("startKPa", 379), Numbers("endKPa", 370)],
        [("injector-drop", "high-delivery")] = [Numbers("startKPa", 379), Numbers("endKPa", 240)],
        [("system-voltage", "good")] = [Numbers("volts", 14.1), Numbers("groundDropVolts", 0.04)],
        [("system-voltage", "low")] = [Numbers("volts", 11.5), Numbers("groundDropVolts", 0.04)],
        [("system-voltage", "poor-ground")] = [Numbers("volts", 14.1), Numbers("groundDropVolts", 0.9)],
        [("fuel-pressure", "good")] = [Numbers("kPa", 385), Numbers("afterFiveMinutesKPa", 360)],
        [("fuel-pressure", "low")] = [Numbers("kPa", 150), Numbers("afterFiveMinutesKPa", 140)],
        [("fuel-pressure", "high")] = [Numbers("kPa", 620), Numbers("afterFiveMinutesKPa", 600)],
        [("fuel-pressure", "bleeds-down")] = [Numbers("kPa", 385), Numbers("afterFiveMinutesKPa", 60)],
        [("air-signal", "fits")] = Air(88),
        [("air-signal", "reads-low")] = Air(55),
        [("air-signal", "reads-high")] = Air(125),
        [("fuel-sample", "contaminated")] = [Text("seen", "water")],
        [("egr-block", "gone")] = [Text("misfireGone", "yes")],
        [("egr-block", "stays")] = [Text("misfireGone", "no")],
        [("intake-leak", "leak")] = [Text("found", "yes")],
        [("intake-leak", "none")] = [Text("found", "no")],
        [("compression-dry", "good")] = [Numbers("kPa", 1200)],
        [("compression-dry", "low")] = [Numbers("kPa", 600)],
        [("compression-dry", "dead")] = [Numbers("kPa", 80)],
        [("leak-down", "tight")] = [Numbers("percent", 7), Text("hear", "none")],
        [("leak-down", "leaks-intake")] = [Numbers("percent", 60), Text("hear", "intake")],
        [("leak-down", "leaks-exhaust")] = [Numbers("percent", 60), Text("hear", "exhaust")],
        [("leak-down", "leaks-crankcase")] = [Numbers("percent", 60), Text("hear", "crankcase")],
        [("leak-down", "leaks-coolant")] = [Numbers("percent", 60), Text("hear", "coolant")],
        [("leak-down", "leaks-neighbour")] = [Numbers("percent", 60), Text("hear", "neighbour")],
        [("cranking-current", "good")] = [Numbers("relativePercent", 98)],
        [("cranking-current", "low")] = [Numbers("relativePercent", 55)],
        [("compression-running", "good")] = [Numbers("idleKPa", 480), Numbers("snapKPa", 900)],
        [("compression-running", "low-idle")] = [Numbers("idleKPa", 150), Numbers("snapKPa", 300)],
        [("compression-running", "low-snap")] = [Numbers("idleKPa", 480), Numbers("snapKPa", 350)],
        [("compression-running", "high")] = [Numbers("idleKPa", 840), Numbers("snapKPa", 900)],
        [("valve-lift", "good")] = [Numbers("intakeMm", 9.2), Numbers("exhaustMm", 9)],
        [("valve-lift", "lost")] = [Numbers("intakeMm", 2), Numbers("exhaustMm", 9)],
        [("valve-clearance", "within")] = [Numbers("intakeMm", 0.2), Numbers("exhaustMm", 0.28)],
        [("valve-clearance", "tight")] = [Numbers("intakeMm", 0.2), Numbers("exhaustMm", 0)],
        [("valve-clearance", "loose")] = [Numbers("intakeMm", 0.9), Numbers("exhaustMm", 0.28)],
        [("manifold-vacuum", "normal")] = [Numbers("kPa", 64), Text("needle", "steady")],
        [("manifold-vacuum", "low-steady")] = [Numbers("kPa", 40), Text("needle", "low-steady")],
        [("manifold-vacuum", "drops-regularly")] = [Numbers("kPa", 58), Text("needle", "drops-regularly")],
        [("manifold-vacuum", "drops-at-times")] = [Numbers("kPa", 60), Text("needle", "drops-at-times")],
        [("manifold-vacuum", "drifts")] = [Numbers("kPa", 58), Text("needle", "drifts")],
        [("manifold-vacuum", "flutters")] = [Numbers("kPa", 58), Text("needle", "flutters")],
        [("exhaust-backpressure", "good")] = [Numbers("kPaAtIdle", 3), Numbers("kPaAt2500", 9)],
        [("exhaust-backpressure", "restricted")] = [Numbers("kPaAtIdle", 16), Numbers("kPaAt2500", 48)],
        [("combustion-gas-in-coolant", "found")] = [Text("found", "yes")],
        [("combustion-gas-in-coolant", "none")] = [Text("found", "no")],
        [("fuel-trims", "normal")] = Trims(2, 1),
        [("fuel-trims", "lean-at-idle")] = Trims(22, 2),
        [("fuel-trims", "lean-under-load")] = Trims(2, 22),
        [("fuel-trims", "lean-everywhere")] = Trims(22, 22),
        [("fuel-trims", "rich")] = Trims(-22, -22),
    };

    /// <summary>One round of readings in which each wanted finding comes out; the tests that compare cylinders get a sound reading everywhere else.</summary>
    public static IEnumerable<Reading> For(Engine engine, IReadOnlyCollection<(string Aspect, Place At, string Outcome)> wanted)
    {
        var knowledge = Knowledge.Shipped;
        foreach (var group in wanted.GroupBy(w => knowledge.Aspect(w.Aspect)!.Value.Test))
        {
            var test = group.Key;
            if (test.Id is "plug-condition")
            {
                foreach (var place in group.Select(w => w.At).Distinct())
                {
                    yield return new Reading { Test = test.Id, At = place, Value = Plug([.. group.Where(w => w.At == place)]) };
                }

                continue;
            }

            if (test.Id is "trouble-codes" or "road-check")
            {
                yield return test.Id == "trouble-codes" ? Codes(group) : Drive(group);
                continue;
            }

            var asked = group.ToDictionary(w => w.At, w => w.Outcome);
            foreach (var place in test.Compares ? test.PlacesOn(engine).Union(asked.Keys) : asked.Keys)
            {
                var outcome = asked.GetValueOrDefault(place) ?? test.Aspects[0].Outcomes.First(o => o.Good).Id;
                yield return new Reading { Test = test.Id, At = place, Value = Value(test, place, outcome, wanted) };
            }
        }
    }

    private static ReadingValue Value(BenchTest test, Place at, string outcome, IEnumerable<(string Aspect, Place At, string Outcome)> wanted) => test.Id switch
    {
        "coil-swap" or "injector-swap" or "plug-swap" => Made(Numbers("swappedWith", Other(at)), outcome switch
        {
            "follows" => Numbers("misfireMovedTo", Other(at)),
            "stays" => Numbers("misfireMovedTo", at.First),
            "gone" => ("misfireMovedTo", FieldValue.Null),
            _ => throw new InvalidOperationException($"No such outcome: {outcome}."),
        }),
        "compression-wet" => Made(Numbers("kPa", Dry(at, wanted) * (outcome == "rises" ? 1.6 : 1))),
        _ => Values.TryGetValue((test.Id, outcome), out var fields)
            ? Made(fields)
            : Made(Text(test.Fields.Single(f => f.Kind == FieldKind.Choice).Name, outcome)),
    };

    // 2 L at 4000 rpm hold 79 g/s at 25 C at sea level.
    private static (string, FieldValue)[] Air(double filling) => [Text("sensor", "air-mass"), Numbers("gramsPerSecond", 0.79 * filling), Numbers("rpm", 4000), Numbers("litres", 2)];

    private static double Dry(Place at, IEnumerable<(string Aspect, Place At, string Outcome)> wanted) =>
        wanted.Any(w => w.Aspect == "compression-dry" && w.At == at && w.Outcome == "dead") ? 80 : 600;

    private static Reading Codes(IEnumerable<(string Aspect, Place At, string Outcome)> wanted)
    {
        var codes = wanted.Select(w => (w.Aspect, w.Outcome) switch
        {
            ("codes-misfire", "coded") => $"P03{w.At.First:00}",
            ("codes-random", "random") => "P0300",
            ("codes-mixture", "lean") => w.At.First == 1 ? "P0171" : "P0174",
            ("codes-mixture", "rich") => w.At.First == 1 ? "P0172" : "P0175",
            ("codes-fuel-pressure", "coded") => "P0087",
            ("codes-airflow", "coded") => "P0101",
            ("codes-egr", "coded") => "P0402",
            ("codes-crank", "coded") => "P0335",
            ("codes-voltage", "coded") => "P0562",
            ("codes-cam", "coded") => w.At.First == 1 ? "P0016" : "P0018",
            _ => null,
        }).OfType<string>().Order(StringComparer.Ordinal).ToArray();
        return new Reading { Test = "trouble-codes", At = Place.Engine, Value = Made(("codes", codes.Length == 0 ? FieldValue.Null : FieldValue.Of(codes))) };
    }

    private static Reading Drive(IEnumerable<(string Aspect, Place At, string Outcome)> wanted) => new()
    {
        Test = "road-check", At = Place.Engine,
        Value = Made(("conditions", FieldValue.Of([.. wanted.Where(w => w.Outcome == "named").Select(w => w.Aspect["when-".Length..])]))),
    };

    private static ReadingValue Plug(IReadOnlyCollection<(string Aspect, Place At, string Outcome)> wanted) => Made([
        Text("look", wanted.FirstOrDefault(w => w.Aspect == "plug-condition").Outcome ?? "normal"),
        .. wanted.Where(w => w.Aspect == "plug-well").Select(w => Text("well", w.Outcome)),
    ]);

    private static double Other(Place at) => at.First == 1 ? 2 : 1;

    private static (string, FieldValue)[] Trims(double idle, double speed) =>
    [
        Numbers("idle.shortPercent", idle / 2), Numbers("idle.longPercent", idle / 2), Numbers("2500rpm.shortPercent", speed / 2), Numbers("2500rpm.longPercent", speed / 2),
    ];

    private static ReadingValue Made(params (string Field, FieldValue Value)[] fields) => new(fields.Select(f => KeyValuePair.Create(f.Field, f.Value)));

    private static (string Field, FieldValue Value) Numbers(string field, params double[] numbers) => (field, FieldValue.Of(numbers));

    private static (string Field, FieldValue Value) Text(string field, string text) => (field, FieldValue.Of(text));
}
