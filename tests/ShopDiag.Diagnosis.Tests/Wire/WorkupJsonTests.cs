using System.Text.Json;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Tests.Workups;
using ShopDiag.Diagnosis.Wire;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.Tests.Wire;

public sealed class WorkupJsonTests
{
    private const string Line = """
        {"id":"ro-17","engine":{"layout":"V6","banks":[[1,3,5],[2,4,6]],"firingOrder":[1,2,3,4,5,6],"ignition":"coil-on-plug","injection":"port","accessMinutes":{"2":40}},"concern":{"codes":["p0304 "],"lamp":"steady","when":["idle"]},"shop":{"tools":["*"],"labourPerHour":120},"readings":[{"test":"compression-dry","cylinder":4,"value":{"kPa":1100}}]}
        """;

    [Fact]
    public void A_workup_line_is_read_whole()
    {
        var workup = Lines.Read(Line);

        Assert.Equal("ro-17", workup.Id);
        Assert.Equal(6, workup.Engine.CylinderCount);
        Assert.Equal(40, workup.Engine.AccessMinutes(2));
        Assert.Equal("P0304", Assert.Single(workup.Concern.Codes));
        Assert.Equal(Lamp.Steady, workup.Concern.Lamp);
        Assert.Equal(120, workup.Shop.LabourPerHour);
        Assert.Equal(1100, Assert.Single(workup.Readings).Value.Number("kPa"));
    }

    [Theory]
    [InlineData("", AltitudeRule.PressureRatio)]
    [InlineData(",\"altitudeRule\":null", AltitudeRule.PressureRatio)]
    [InlineData(",\"altitudeRule\":\"pressure-ratio\"", AltitudeRule.PressureRatio)]
    [InlineData(",\"altitudeRule\":\"density-ratio\"", AltitudeRule.DensityRatio)]
    public void The_altitude_rule_travels_with_the_shop(string member, AltitudeRule rule) =>
        Assert.Equal(rule, Lines.Read(Line.Replace("\"labourPerHour\":120", "\"altitudeMetres\":2000" + member, StringComparison.Ordinal)).Shop.AltitudeRule);

    [Theory]
    [InlineData("\"by-feel\"")]
    [InlineData("1")]
    [InlineData("true")]
    public void An_altitude_rule_that_is_not_known_is_refused(string rule)
    {
        var line = Line.Replace("\"labourPerHour\":120", $"\"altitudeRule\":{rule}", StringComparison.Ordinal);
        var error = WorkupJson.Read(line, Knowledge.Shipped).Workup.Error;
        Assert.Equal("shop.altitudeRule", error?.At);
        Assert.Contains("pressure-ratio, density-ratio", error!.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_reading_that_design_section_10_shows_for_a_known_test_is_accepted()
    {
        foreach (var reading in Section10)
        {
            Lines.Workup(Lines.I4, [reading]);
        }
    }

    public static string[] Section10 { get; } =
    [
        """{"test":"power-balance","cylinder":1,"value":{"baseRpm":[702,699],"cancelledRpm":[641,637]}}""",
        """{"test":"misfire-counts","cylinder":1,"value":{"misfires":3,"revolutions":1000}}""",
        """{"test":"trouble-codes","value":{"codes":["P0304"]}}""",
        """{"test":"spark-output","cylinder":1,"value":{"gapMm":20,"jumps":"steady"}}""",
        """{"test":"coil-swap","cylinder":4,"value":{"swappedWith":1,"misfireMovedTo":1}}""",
        """{"test":"coil-swap","cylinder":4,"value":{"swappedWith":1,"misfireMovedTo":null}}""",
        """{"test":"coil-control","cylinder":4,"value":{"signal":"present"}}""",
        """{"test":"coil-feed","cylinder":4,"value":{"volts":12.3}}""",
        """{"test":"plug-condition","cylinder":4,"value":{"look":"normal","gapMm":1.1}}""",
        """{"test":"injector-sound","cylinder":4,"value":{"sound":"ticking"}}""",
        """{"test":"injector-control","cylinder":4,"value":{"signal":"pulsing"}}""",
        """{"test":"injector-resistance","cylinder":4,"value":{"ohm":12.6,"celsius":25}}""",
        """{"test":"intake-leak","cylinder":4,"value":{"found":"yes","where":"runner"}}""",
        """{"test":"coil-resistance","cylinder":4,"value":{"primaryOhm":0.6,"secondaryOhm":9500,"celsius":25}}""",
        """{"test":"injector-swap","cylinder":4,"value":{"swappedWith":1,"misfireMovedTo":4}}""",
        """{"test":"injector-drop","cylinder":4,"value":{"startKPa":380,"endKPa":316}}""",
        """{"test":"runner-temperature","cylinder":4,"value":{"celsius":240}}""",
        """{"test":"fuel-pressure","value":{"kPa":385,"afterFiveMinutesKPa":360}}""",
        """{"test":"system-voltage","value":{"volts":14.1,"groundDropVolts":0.04}}""",
        """{"test":"egr-block","value":{"misfireGone":false}}""",
        """{"test":"fuel-sample","value":{"seen":"clean"}}""",
        """{"test":"road-check","value":{"conditions":["idle"]}}""",
        """{"test":"road-check","value":{"conditions":[]}}""",
        """{"test":"compression-dry","cylinder":4,"value":{"kPa":1210}}""",
        """{"test":"compression-wet","cylinder":4,"value":{"kPa":1240}}""",
        """{"test":"leak-down","cylinder":4,"value":{"percent":8,"hear":"none"}}""",
        """{"test":"leak-down","cylinder":4,"value":{"percent":8,"hear":"none","supplyKPa":552,"restrictorMm":1.0}}""",
        """{"test":"compression-running","cylinder":4,"value":{"idleKPa":480,"snapKPa":900}}""",
        """{"test":"cranking-current","cylinder":4,"value":{"relativePercent":97}}""",
        """{"test":"valve-lift","cylinder":4,"value":{"intakeMm":9.2,"exhaustMm":9.0}}""",
        """{"test":"valve-clearance","cylinder":4,"value":{"intakeMm":0.2,"exhaustMm":0.28}}""",
        """{"test":"borescope","cylinder":4,"value":{"seen":"normal"}}""",
        """{"test":"manifold-vacuum","value":{"kPa":64,"needle":"steady"}}""",
        """{"test":"exhaust-backpressure","bank":1,"value":{"kPaAtIdle":4,"kPaAt2500":10}}""",
        """{"test":"cam-timing","bank":1,"value":{"correlation":"good"}}""",
        """{"test":"combustion-gas-in-coolant","value":{"found":"no"}}""",
        """{"test":"fuel-trims","bank":1,"value":{"idle":{"shortPercent":2,"longPercent":3},"2500rpm":{"shortPercent":1,"longPercent":2}}}""",
    ];

    [Theory]
    [InlineData("""{"test":"compression-dry","cylinder":4,"value":{"kPa":99999}}""", "readings[0].value.kPa")]
    [InlineData("""{"test":"compression-dry","cylinder":4,"value":{}}""", "readings[0].value.kPa")]
    [InlineData("""{"test":"compression-dry","cylinder":4,"value":{"kPa":"high"}}""", "readings[0].value.kPa")]
    [InlineData("""{"test":"compression-dry","cylinder":7,"value":{"kPa":900}}""", "readings[0].cylinder")]
    [InlineData("""{"test":"compression-dry","value":{"kPa":900}}""", "readings[0].cylinder")]
    [InlineData("""{"test":"no-such-test","cylinder":1,"value":{}}""", "readings[0].test")]
    [InlineData("""{"cylinder":1,"value":{}}""", "readings[0].test")]
    [InlineData("""{"test":"spark-output","cylinder":1,"value":{"jumps":"sometimes"}}""", "readings[0].value.jumps")]
    [InlineData("""{"test":"coil-swap","cylinder":4,"value":{"swappedWith":4,"misfireMovedTo":1}}""", "readings[0].value.swappedWith")]
    [InlineData("""{"test":"coil-swap","cylinder":4,"value":{"swappedWith":9,"misfireMovedTo":1}}""", "readings[0].value.swappedWith")]
    [InlineData("""{"test":"trouble-codes","value":{"codes":["X0304"]}}""", "readings[0].value.codes")]
    [InlineData("""{"test":"coil-resistance","cylinder":1,"value":{"secondaryOhm":9500}}""", "readings[0].value.primaryOhm")]
    [InlineData("""{"test":"coil-resistance","cylinder":1,"value":{"primaryOhm":-1}}""", "readings[0].value.primaryOhm")]
    [InlineData("""{"test":"injector-swap","cylinder":4,"value":{"swappedWith":4,"misfireMovedTo":1}}""", "readings[0].value.swappedWith")]
    [InlineData("""{"test":"injector-drop","cylinder":4,"value":{"startKPa":380}}""", "readings[0].value.endKPa")]
    [InlineData("""{"test":"runner-temperature","cylinder":4,"value":{"celsius":4000}}""", "readings[0].value.celsius")]
    [InlineData("""{"test":"fuel-pressure","cylinder":4,"value":{"kPa":385}}""", "readings[0].cylinder")]
    [InlineData("""{"test":"fuel-pressure","value":{"kPa":385,"afterFiveMinutesKPa":-3}}""", "readings[0].value.afterFiveMinutesKPa")]
    [InlineData("""{"test":"system-voltage","value":{"volts":140}}""", "readings[0].value.volts")]
    [InlineData("""{"test":"egr-block","value":{"misfireGone":"perhaps"}}""", "readings[0].value.misfireGone")]
    [InlineData("""{"test":"fuel-sample","value":{"seen":["clean","water"]}}""", "readings[0].value.seen")]
    [InlineData("""{"test":"road-check","value":{"conditions":["raining"]}}""", "readings[0].value.conditions")]
    [InlineData("""{"test":"road-check","value":{}}""", "readings[0].value.conditions")]
    [InlineData("""{"test":"compression-dry","cylinder":1,"value":{"kPa":900},"supersedes":0}""", "readings[0].supersedes")]
    [InlineData("""{"test":"compression-dry","cylinder":1,"value":{"kPa":900},"stage":"during"}""", "readings[0].stage")]
    [InlineData("""{"test":"fuel-trims","bank":2,"value":{"idle":{"shortPercent":2,"longPercent":3}}}""", "readings[0].bank")]
    public void A_wrong_reading_is_refused_where_it_is_wrong(string reading, string at)
    {
        var (id, workup) = WorkupJson.Read($$"""{"id":"w","engine":{{Lines.I4}},"readings":[{{reading}}]}""", Knowledge.Shipped);

        Assert.Equal("w", id);
        Assert.Equal(at, workup.Error!.At);
        Assert.NotEmpty(workup.Error.Message);
    }

    [Theory]
    [InlineData("", ValveLash.Unknown)]
    [InlineData(""","valveLash":"adjusted" """, ValveLash.Adjusted)]
    [InlineData(""","valveLash":"hydraulic" """, ValveLash.Hydraulic)]
    public void How_the_valves_keep_their_play_travels_with_the_engine(string member, ValveLash lash)
    {
        var line = """{"id":"w","engine":{"layout":"I4","firingOrder":[1,3,4,2],"ignition":"coil-on-plug","injection":"port"MEMBER}}""".Replace("MEMBER", member, StringComparison.Ordinal);
        Assert.Equal(lash, WorkupJson.Read(line, Knowledge.Shipped).Workup.Value.Engine.Spec.Lash);
    }

    [Theory]
    [InlineData("""{"id":"w"}""", "engine")]
    [InlineData("""{"id":"w","engine":{"layout":"I4","firingOrder":[1,3,4,4],"ignition":"coil-on-plug","injection":"port"}}""", "engine.firingOrder")]
    [InlineData("""{"id":"w","engine":{"layout":"I4","firingOrder":[1,3,4,2],"ignition":"glow","injection":"port"}}""", "engine.ignition")]
    [InlineData("""{"id":"w","engine":{"layout":"I4","firingOrder":[1,3,4,2],"ignition":"coil-on-plug","injection":"port","valveLash":"loose"}}""", "engine.valveLash")]
    [InlineData("""{"id":"w","engine":{"layout":"W8","firingOrder":[1,2,3,4,5,6,7,8],"ignition":"coil-on-plug","injection":"port"}}""", "engine.banks")]
    [InlineData("""{"id":"w","engine":{"layout":"I4","firingOrder":[1,3,4,2],"ignition":"coil-on-plug","injection":"port","accessMinutes":{"3":10}}}""", "engine.accessMinutes.3")]
    [InlineData("""{"id":"w","engine":{"layout":"I4","firingOrder":[1,3,4,2],"ignition":"coil-on-plug","injection":"port","limits":{"no-such":1}}}""", "engine.limits.no-such")]
    public void A_wrong_engine_is_refused_where_it_is_wrong(string line, string at) =>
        Assert.Equal(at, WorkupJson.Read(line, Knowledge.Shipped).Workup.Error!.At);

    [Theory]
    [InlineData("")]
    [InlineData("[]")]
    [InlineData("{")]
    [InlineData("nonsense")]
    public void A_line_that_is_no_workup_is_answered_in_words(string line) =>
        Assert.NotEmpty(WorkupJson.Read(line, Knowledge.Shipped).Workup.Error!.Message);

    [Fact]
    public void Unknown_fields_are_passed_over_and_said()
    {
        var workup = Lines.Workup(Lines.I4, ["""{"test":"leak-down","cylinder":4,"value":{"percent":8,"hear":"none","gauge":"left"},"mood":"good"}"""]);

        Assert.Contains(workup.Remarks, r => r.Contains("gauge", StringComparison.Ordinal));
        Assert.Contains(workup.Remarks, r => r.Contains("mood", StringComparison.Ordinal));
        Assert.All(workup.Remarks, r => Assert.Contains(r, Diagnostician.Assess(workup, Knowledge.Shipped).Warnings));
    }

    [Fact]
    public void A_value_that_is_written_and_read_again_is_the_same()
    {
        foreach (var line in Section10)
        {
            var reading = Lines.Workup(Lines.I4, [line]).Readings[0];
            var test = Knowledge.Shipped.Test(reading.Test)!;
            var text = ReadingJson.WriteValue(reading.Value, test);
            using var json = JsonDocument.Parse(text);

            var again = ReadingJson.ReadValue(json.RootElement, test, []).Value;

            Assert.Equal(text, ReadingJson.WriteValue(again, test));
            Assert.Equal(reading.Value.Fields.Keys, again.Fields.Keys);
        }
    }

    [Theory]
    [InlineData("true", "gone")]
    [InlineData("false", "stays")]
    public void True_and_false_travel_as_yes_and_no(string given, string outcome)
    {
        var workup = Lines.Workup(Lines.I4, [$$"""{"test":"egr-block","value":{"misfireGone":{{given}} } }"""]);
        Assert.Equal(outcome, Assert.Single(Diagnostician.Assess(workup, Knowledge.Shipped).Findings).Outcome);
    }

    [Fact]
    public void A_drive_without_a_misfire_is_an_empty_list_or_null()
    {
        foreach (var given in new[] { "[]", "null" })
        {
            var workup = Lines.Workup(Lines.I4, [$$"""{"test":"road-check","value":{"conditions":{{given}} } }"""]);
            Assert.All(Diagnostician.Assess(workup, Knowledge.Shipped).Findings, f => Assert.Equal("not-named", f.Outcome));
        }
    }

    [Fact]
    public void An_explicit_null_in_an_optional_field_is_the_same_as_leaving_it_out() =>
        Lines.Workup(Lines.I4, ["""{"test":"spark-output","cylinder":1,"value":{"gapMm":null,"jumps":"steady"}}"""]);

    [Fact]
    public void An_unlikely_number_is_taken_and_said()
    {
        const string unlikely = """{"test":"compression-dry","cylinder":1,"value":{"kPa":2900}}""";
        const string corrected = """{"test":"compression-dry","cylinder":1,"value":{"kPa":1200},"supersedes":0}""";

        Assert.Contains(Lines.Workup(Lines.I4, [unlikely]).Remarks, r => r.Contains("unusual", StringComparison.Ordinal));
        Assert.Empty(Lines.Workup(Lines.I4, [unlikely, corrected]).Remarks);
    }

    [Fact]
    public void A_correction_supersedes_and_a_repeat_adds_a_trial()
    {
        const string first = """{"test":"spark-output","cylinder":2,"value":{"jumps":"none"}}""";
        const string corrected = """{"test":"spark-output","cylinder":2,"value":{"jumps":"steady"},"supersedes":0}""";

        var corrects = Diagnostician.Assess(Lines.Workup(Lines.I4, [first, corrected]), Knowledge.Shipped);
        var repeats = Diagnostician.Assess(Lines.Workup(Lines.I4, [first, corrected.Replace(",\"supersedes\":0", "", StringComparison.Ordinal)]), Knowledge.Shipped);

        Assert.Equal("strong", corrects.Findings.Single(f => f.Test == "spark-output").Outcome);
        Assert.Null(repeats.Findings.Single(f => f.Test == "spark-output").Outcome);
    }
}
