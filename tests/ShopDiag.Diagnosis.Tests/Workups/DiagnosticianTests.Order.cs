using System.Text.Json.Nodes;

namespace ShopDiag.Diagnosis.Tests.Workups;

/// <summary>The order of the bench that comes out by itself. Source: common practice (spark, injector, air leak, compression or leak-down).</summary>
public sealed class DiagnosticianOrderTests
{
    // What each test shows on a cylinder where nothing of it is wrong.
    private static readonly Dictionary<string, string> Sound = new()
    {
        ["spark-output"] = """{"gapMm":20,"jumps":"steady"}""",
        ["coil-feed"] = """{"volts":12.4}""",
        ["coil-control"] = """{"signal":"present"}""",
        ["plug-condition"] = """{"look":"normal","gapMm":1.0}""",
        ["injector-sound"] = """{"sound":"ticking"}""",
        ["injector-resistance"] = """{"ohm":12.4,"celsius":25}""",
        ["injector-control"] = """{"signal":"pulsing"}""",
        ["runner-temperature"] = """{"celsius":240}""",
        ["coil-resistance"] = """{"primaryOhm":0.6,"secondaryOhm":9500,"celsius":20}""",
        ["injector-drop"] = """{"startKPa":379,"endKPa":314}""",
        ["enrichment"] = """{"misfires":"same"}""",
        ["intake-leak"] = """{"found":"no"}""",
        ["compression-dry"] = """{"kPa":1200}""",
        ["leak-down"] = """{"percent":7,"hear":"none"}""",
        ["cranking-current"] = """{"relativePercent":98}""",
        ["compression-running"] = """{"idleKPa":480,"snapKPa":900}""",
        ["borescope"] = """{"seen":"normal"}""",
        ["intake-ports"] = """{"seen":"clean"}""",
        ["valve-springs"] = """{"seen":"firm"}""",
        ["valve-lift"] = """{"intakeMm":9.2,"exhaustMm":9.0}""",
        ["valve-clearance"] = """{"intakeMm":0.2,"exhaustMm":0.28}""",
        ["computer-output"] = """{"signal":"present"}""",
    };

    // The same for the tests that are taken once for the engine.
    private static readonly Dictionary<string, string> SoundEngine = new()
    {
        ["road-check"] = """{"conditions":["always"]}""",
        ["system-voltage"] = """{"volts":14.1,"groundDropVolts":0.04}""",
        ["fuel-pressure"] = """{"kPa":385,"afterFiveMinutesKPa":360}""",
        ["fuel-sample"] = """{"seen":"clean"}""",
        ["egr-block"] = """{"misfireGone":false}""",
        ["manifold-vacuum"] = """{"kPa":64,"needle":"steady"}""",
        ["combustion-gas-in-coolant"] = """{"found":"no"}""",
    };

    [Fact]
    public void A_cylinder_that_is_not_known_yet_is_looked_for_first()
    {
        var first = Lines.Assess(Lines.I4).Next[0];

        Assert.Contains(first.Test, new[] { "trouble-codes", "misfire-counts", "power-balance" });
    }

    [Theory]
    [InlineData(Lines.I4, 4)]
    [InlineData(Lines.V6, 6)]
    public void One_dead_cylinder_on_coil_on_plug_gives_the_order_of_the_trade(string engine, int cylinders)
    {
        var readings = Lines.Balance(cylinders, 4).ToList();
        var taken = new List<string>();
        for (var step = 0; step < 30; step++)
        {
            var next = Lines.Assess(engine, [.. readings]).Next;
            if (next.IsEmpty || next[0].Test is not { } test)
            {
                break;
            }

            taken.Add(test);
            readings.AddRange(SoundReadings(test, next[0].At, cylinders));
        }

        Assert.Equal("spark-output", taken[0]);
        int First(params string[] tests) => taken.FindIndex(t => tests.Contains(t)) is >= 0 and var i ? i : int.MaxValue;
        var injector = First("injector-sound", "injector-resistance", "injector-control");
        // Gas that helps the cylinder speaks of air that leaks in.
        var air = First("enrichment", "intake-leak", "fuel-trims");
        var mechanical = First("compression-dry", "compression-running", "leak-down");
        Assert.True(injector < air, $"injector before air leak: {string.Join(", ", taken)}");
        Assert.True(air < mechanical, $"air leak before compression or leak-down: {string.Join(", ", taken)}");
        Assert.True(mechanical < int.MaxValue, $"compression or leak-down is taken: {string.Join(", ", taken)}");
    }

    [Fact]
    public void Each_step_is_taken_at_the_dead_cylinder()
    {
        var next = Lines.Assess(Lines.V6, [.. Lines.Balance(6, 4)]).Next;

        Assert.Equal(Place.Cylinder(4), next[0].At);
        Assert.All(next[0].Cautions, c => Assert.NotEmpty(c));
        Assert.NotEmpty(next[0].Cautions);
    }

    private static IEnumerable<string> SoundReadings(string test, Place at, int cylinders)
    {
        if (test == "fuel-trims")
        {
            yield return new JsonObject
            {
                ["test"] = test, ["bank"] = at.First,
                ["value"] = JsonNode.Parse("""{"idle":{"shortPercent":2,"longPercent":2},"2500rpm":{"shortPercent":1,"longPercent":1}}"""),
            }.ToJsonString();
            yield break;
        }

        if (test == "trouble-codes")
        {
            yield return """{"test":"trouble-codes","value":{"codes":["P0304"]}}""";
            yield break;
        }

        if (SoundEngine.TryGetValue(test, out var sound))
        {
            yield return new JsonObject { ["test"] = test, ["value"] = JsonNode.Parse(sound) }.ToJsonString();
            yield break;
        }

        foreach (var cylinder in at.Kind == PlaceKind.Engine ? Enumerable.Range(1, cylinders) : [at.First])
        {
            yield return test switch
            {
                "misfire-counts" => Lines.Reading(test, cylinder, cylinder == 4 ? """{"misfires":400,"revolutions":1000}""" : """{"misfires":1,"revolutions":1000}"""),
                "power-balance" => Lines.Balance(cylinders, 4).ElementAt(cylinder - 1),
                "coil-swap" or "injector-swap" or "plug-swap" => Lines.Reading(test, cylinder, """{"swappedWith":1,"misfireMovedTo":4}"""),
                _ => Lines.Reading(test, cylinder, Sound[test]),
            };
        }
    }
}
