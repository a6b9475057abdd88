using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.Tests.Workups;

/// <summary>Readings that are taken again because much hangs on them, and work that tells nothing where it is proposed no longer.</summary>
public sealed class SecondReadingTests
{
    private const string NoMisfire = """{"misfires":1,"revolutions":1000}""";
    private const string Misfires = """{"misfires":300,"revolutions":1000}""";
    private const string NormalTrims = """{"bank":1,"test":"fuel-trims","value":{"idle":{"shortPercent":1,"longPercent":0},"2500rpm":{"shortPercent":1,"longPercent":0}}}""";

    [Fact]
    public void A_count_on_which_all_hangs_is_taken_again_and_not_a_third_time_where_it_agrees()
    {
        string[] sound = [Lines.Reading("spark-output", 1, """{"gapMm":20,"jumps":"steady"}"""), Lines.Reading("plug-condition", 1, """{"gapMm":1,"look":"normal","well":"dry"}"""),
            Lines.Reading("injector-sound", 1, """{"sound":"ticking"}"""), .. Lines.Balance(4)];
        var once = Lines.Assess(Lines.I4, [.. Counts(1), .. sound]);
        var twice = Lines.Assess(Lines.I4, [.. Counts(1), .. Counts(1), .. sound]);
        var otherwise = Lines.Assess(Lines.I4, [.. Counts(1), .. Counts(), .. Counts(), .. sound]);

        var again = Assert.Single(once.Next, n => n.Test == "misfire-counts");
        Assert.Equal(Place.Engine, again.At);
        Assert.StartsWith("Take it again", again.Because, StringComparison.Ordinal);
        Assert.DoesNotContain(twice.Next, n => n.Test == "misfire-counts");
        Assert.True(otherwise.Cause("not-a-misfire", Place.Engine).Probability > once.Cause("not-a-misfire", Place.Engine).Probability);
    }

    [Fact]
    public void A_reading_that_stands_in_the_way_of_a_likely_causes_proof_is_doubted()
    {
        // Everything says rings, but for one look at the piston, which keeps the proof open.
        string[] rings = [.. Lines.Balance(4, 2), .. Enumerable.Range(1, 4).Select(c => Lines.Reading("compression-dry", c, c == 2 ? """{"kPa":700}""" : """{"kPa":1250}""")),
            Lines.Reading("leak-down", 2, """{"percent":40,"hear":"crankcase"}"""), Lines.Reading("plug-condition", 2, """{"gapMm":1,"look":"oil-fouled","well":"dry"}""")];
        var look = Lines.Reading("borescope", 2, """{"seen":"wall-scored"}""");

        // Oil in the cylinder would prove them all the same; this engine has no room for it.
        var workup = Lines.Workup(Lines.I4, [.. rings, look]);
        var open = Diagnostician.Assess(workup with { Obstacles = [new Obstacle("compression-wet", Place.Engine)] }, Knowledge.Shipped);
        Assert.Equal("rings-worn", Assert.Single(Lines.Assess(Lines.I4, rings).Conclusion!.Causes).Cause);
        Assert.Null(open.Conclusion);
        Assert.Contains(open.Next, n => n.Test == "borescope" && n.At == Place.Cylinder(2));
    }

    [Fact]
    public void A_reading_that_two_of_three_looks_bear_out_is_not_asked_for_again()
    {
        // Oil in the well makes oil likely, but the plug is wet with fuel and not tracked, which stands in the way of its proof.
        const string wet = """{"gapMm":1,"look":"fuel-wet","well":"oil"}""", tracked = """{"gapMm":1,"look":"tracked","well":"oil"}""";
        string[] Looked(params string[] looks) =>
        [
            .. Counts(2), .. Lines.Balance(4, 2), .. looks.Select(l => Lines.Reading("plug-condition", 2, l)), Lines.Reading("spark-output", 2, """{"gapMm":20,"jumps":"steady"}"""),
            Lines.Reading("injector-sound", 2, """{"sound":"ticking"}"""), Lines.Reading("compression-running", 2, """{"idleKPa":450,"snapKPa":900}"""), NormalTrims,
            Lines.Reading("plug-swap", 2, """{"swappedWith":1,"misfireMovedTo":2}"""), Lines.Reading("enrichment", 2, """{"misfires":"same"}"""),
        ];

        Assert.Contains(Looks(wet), IsAgain);
        Assert.Contains(Looks(wet, tracked), IsAgain);
        Assert.DoesNotContain(Looks(wet, tracked, wet), IsAgain);

        IEnumerable<NextStepAdvice> Looks(params string[] looks) => Lines.Assess(Lines.I4WasteSpark, Looked(looks)).Next;
        static bool IsAgain(NextStepAdvice n) => n.Test == "plug-condition" && n.At == Place.Cylinder(2);
    }

    [Fact]
    public void What_the_customer_says_settles_no_road_check()
    {
        var answer = Diagnostician.Assess(Lines.Workup(Lines.I4, [.. Counts(), .. Lines.Balance(4), NormalTrims], """{"when":["load"]}"""), Knowledge.Shipped);

        Assert.Null(answer.Conclusion);
        Assert.Contains(answer.Next, n => n.Test == "road-check");
    }

    [Fact]
    public void No_misfire_is_concluded_once_it_was_driven_under_load_without_one()
    {
        string[] good = [.. Counts(), .. Lines.Balance(4), NormalTrims];
        const string fine = """{"test":"road-check","value":{"conditions":null}}""";
        const string felt = """{"test":"road-check","value":{"conditions":["load"]}}""";

        Assert.Null(Lines.Assess(Lines.I4, good).Conclusion);
        Assert.Null(Lines.Assess(Lines.I4, [.. good, felt]).Conclusion);
        Assert.Equal("not-a-misfire", Assert.Single(Lines.Assess(Lines.I4, [.. good, fine]).Conclusion!.Causes).Cause);
    }

    [Fact]
    public void A_swap_is_not_proposed_where_no_misfire_is_there_to_move()
    {
        var sound = Lines.Assess(Lines.I4, [.. Counts(), .. Lines.Balance(4), NormalTrims, """{"test":"road-check","value":{"conditions":["cold"]}}"""]);
        var misfiring = Lines.Assess(Lines.I4, [.. Counts(2), Lines.Reading("spark-output", 2, """{"gapMm":20,"jumps":"weak"}""")]);

        Assert.DoesNotContain(sound.Next, n => n.Test is "coil-swap" or "plug-swap" or "injector-swap");
        Assert.Contains(misfiring.Next, n => n.Test == "coil-swap" && n.At == Place.Cylinder(2));
    }

    [Fact]
    public void A_coil_is_not_swapped_where_most_cylinders_misfire()
    {
        var spread = Lines.Assess(Lines.I4, [.. Counts(1, 2, 4), Lines.Reading("spark-output", 2, """{"gapMm":20,"jumps":"weak"}""")]);

        Assert.DoesNotContain(spread.Next, n => n.Test is "coil-swap" or "injector-swap");
    }

    [Theory]
    [InlineData("load", "under load")]
    [InlineData("cold", "engine cold")]
    public void A_repair_of_what_was_felt_on_the_road_is_proved_by_a_drive(string when, string said)
    {
        var repaired = Repaired(when);
        var drive = Assert.Single(repaired.Next);

        Assert.Equal(("road-check", Stage.After), (drive.Test, drive.Stage));
        Assert.Contains(said, drive.Because, StringComparison.Ordinal);
        Assert.NotEmpty(drive.Cautions);
        Assert.Empty(Repaired(when, """{"test":"road-check","stage":"after","value":{"conditions":null}}""").Next);
        Assert.NotEmpty(Repaired(when, $$$"""{"test":"road-check","stage":"after","value":{"conditions":["{{{when}}}"]}}""").Next);
    }

    [Fact]
    public void What_idles_badly_is_proved_at_idle() => Assert.Empty(Repaired("idle").Next);

    [Fact]
    public void A_drive_that_alone_keeps_no_misfire_open_is_taken_again()
    {
        string[] good =
        [
            .. Counts(), .. Counts(), .. Lines.Balance(4), NormalTrims, """{"test":"trouble-codes","value":{"codes":null}}""",
            """{"test":"manifold-vacuum","value":{"kPa":64,"needle":"steady"}}""", """{"bank":1,"test":"exhaust-backpressure","value":{"kPaAtIdle":3,"kPaAt2500":5}}""",
            """{"test":"combustion-gas-in-coolant","value":{"found":"no"}}""", """{"test":"fuel-sample","value":{"seen":"clean"}}""",
            """{"test":"fuel-pressure","value":{"kPa":360,"afterFiveMinutesKPa":350}}""",
            .. Enumerable.Range(1, 4).SelectMany(c => new[]
            {
                Lines.Reading("plug-condition", c, """{"gapMm":1,"look":"normal","well":"dry"}"""), Lines.Reading("compression-dry", c, """{"kPa":1220}"""),
                Lines.Reading("cranking-current", c, """{"relativePercent":99}"""), Lines.Reading("spark-output", c, """{"gapMm":20,"jumps":"steady"}"""),
                Lines.Reading("injector-drop", c, """{"startKPa":380,"endKPa":316}"""), Lines.Reading("intake-ports", c, """{"seen":"clean"}"""),
            }),
        ];
        var felt = Lines.Assess(Lines.I4, [.. good, """{"test":"road-check","value":{"conditions":["load"]}}"""]);

        Assert.Null(felt.Conclusion);
        Assert.Contains(felt.Next, n => n.Test == "road-check");
    }

    [Fact]
    public void A_plug_is_not_swapped_where_most_cylinders_misfire() =>
        Assert.DoesNotContain(Lines.Assess(Lines.I4, [.. Counts(1, 2, 4), Lines.Reading("plug-condition", 2, """{"gapMm":1,"look":"fuel-wet","well":"dry"}""")]).Next, n => n.Test == "plug-swap");

    [Fact]
    public void Of_the_repairs_that_probably_help_the_one_that_saves_most_may_be_tried_and_not_only_that_of_the_likeliest_cause()
    {
        // Oil in the well and a track on the plug: whether the boot alone leaks or the oil led the spark astray, seals, plug and boot mend both.
        string[] oily = [.. Counts(2), Lines.Reading("plug-condition", 2, """{"gapMm":1,"look":"tracked","well":"oil"}""")];
        var answer = Diagnostician.Assess(Lines.Workup(Lines.I4, oily, """{"when":["load","wet"]}"""), Knowledge.Shipped);

        var trial = Assert.Single(answer.Next, n => n.Unproven);
        Assert.Contains("well", trial.Repair!.Summary, StringComparison.Ordinal);
        Assert.True(answer.Cause("oil-in-plug-well", Place.Cylinder(2)).Probability < 0.95);
    }

    private static Assessment Repaired(string when, params string[] more)
    {
        const string after = ",\"stage\":\"after\"";
        return Diagnostician.Assess(
            Lines.Workup(
                Lines.I4,
                [
                    .. Lines.Balance(4, 2), Lines.Reading("spark-output", 2, """{"jumps":"none"}"""), Lines.Reading("coil-feed", 2, """{"volts":12.4}"""), Lines.Reading("coil-control", 2, """{"signal":"present"}"""),
                    .. Enumerable.Range(1, 4).Select(c => Lines.Reading("power-balance", c, """{"baseRpm":[702,700],"cancelledRpm":[641,638]}""", after)), .. more,
                ],
                $$"""{"when":["{{when}}"]}"""),
            Knowledge.Shipped);
    }

    private static IEnumerable<string> Counts(params int[] misfiring) =>
        Enumerable.Range(1, 4).Select(c => Lines.Reading("misfire-counts", c, misfiring.Contains(c) ? Misfires : NoMisfire));
}
