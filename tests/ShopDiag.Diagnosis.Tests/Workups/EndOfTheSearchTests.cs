using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.Tests.Workups;

/// <summary>What brings a search to its end: the last reading of a proof, a contradiction that was looked at again, a probable repair where nothing is left to read.</summary>
public sealed class EndOfTheSearchTests
{
    /// <summary>From this probability on a repair may be advised unproven (decision 0016).</summary>
    private const double UnprovenFrom = 0.75;

    private const string Misfires = """{"misfires":300,"revolutions":1000}""";
    private const string FreeExhaust = """{"bank":1,"test":"exhaust-backpressure","value":{"kPaAtIdle":2.5,"kPaAt2500":7.8}}""";

    /// <summary>All cylinders misfire, lean everywhere, pressure, fuel and intake right: the air is measured short. A steady needle rules a stopped-up exhaust out already.</summary>
    private static readonly string[] MeasuredShort =
    [
        .. Enumerable.Range(1, 4).Select(c => Lines.Reading("misfire-counts", c, Misfires)), .. Lines.Balance(4),
        """{"test":"fuel-pressure","value":{"kPa":380,"afterFiveMinutesKPa":360}}""", """{"test":"manifold-vacuum","value":{"kPa":66,"needle":"steady"}}""",
        """{"bank":1,"test":"fuel-trims","value":{"idle":{"shortPercent":6,"longPercent":16},"2500rpm":{"shortPercent":3,"longPercent":15}}}""",
        """{"test":"fuel-sample","value":{"seen":"clean"}}""", """{"test":"intake-leak","value":{"found":"no","where":""}}""",
        """{"test":"air-signal","value":{"sensor":"air-mass","litres":2,"intakeCelsius":25,"rpm":3557,"gramsPerSecond":29.4}}""",
    ];

    [Fact]
    public void What_a_proof_still_lacks_is_asked_for_though_it_tells_nothing_else()
    {
        var lacking = Lines.Assess(Lines.I4, MeasuredShort);
        var complete = Lines.Assess(Lines.I4, [.. MeasuredShort, FreeExhaust]);

        Assert.Null(lacking.Conclusion);
        Assert.Equal("exhaust-backpressure", lacking.Next[0].Test);
        Assert.Equal("airflow-signal-wrong", Assert.Single(complete.Conclusion!.Causes).Cause);
    }

    [Fact]
    public void A_stored_code_for_the_cams_keeps_the_air_meter_from_being_sold_until_their_timing_was_looked_at()
    {
        var coded = """{"test":"trouble-codes","value":{"codes":["P0016","P0300"]}}""";
        const string inStep = """{"bank":1,"test":"cam-timing","value":{"correlation":"good"}}""";

        var open = Lines.Assess(Lines.I4, [.. MeasuredShort, FreeExhaust, coded]);
        var looked = Lines.Assess(Lines.I4, [.. MeasuredShort, FreeExhaust, coded, inStep]);

        Assert.Null(open.Conclusion);
        Assert.Equal("cam-timing", open.Next[0].Test);
        Assert.Equal("airflow-signal-wrong", Assert.Single(looked.Conclusion!.Causes).Cause);
    }

    [Fact]
    public void A_contradiction_is_settled_once_two_of_three_looks_agree()
    {
        const string strong = """{"gapMm":20,"jumps":"steady"}""", gone = """{"signal":"absent"}""", there = """{"signal":"present"}""";
        string[] Coil(params string[] controls) => [Lines.Reading("spark-output", 2, strong), .. controls.Select(c => Lines.Reading("coil-control", 2, c))];

        Assert.Contains(Lines.Assess(Lines.I4, Coil(gone)).Contradictions, IsOfTheControl);
        Assert.Contains(Lines.Assess(Lines.I4, Coil(gone, there)).Contradictions, c => c.Retake == "coil-control");
        Assert.DoesNotContain(Lines.Assess(Lines.I4, Coil(gone, there, gone)).Contradictions, c => c.Retake == "coil-control");

        static bool IsOfTheControl(Contradiction c) => c.Retake == "coil-control" && c.Because.Contains("cannot make a strong spark", StringComparison.Ordinal);
    }

    [Fact]
    public void A_gasket_between_two_cylinders_is_not_proved_where_the_leak_down_is_tight()
    {
        string[] low =
        [
            .. Lines.Balance(4, 2, 3), .. Enumerable.Range(1, 4).Select(c => Lines.Reading("compression-dry", c, c is 2 or 3 ? """{"kPa":700}""" : """{"kPa":1250}""")),
            Lines.Reading("compression-wet", 2, """{"kPa":710}"""), Lines.Reading("compression-wet", 3, """{"kPa":710}"""),
        ];

        Assert.Equal("head-gasket-neighbours", Assert.Single(Lines.Assess(Lines.I4, low).Conclusion!.Causes).Cause);
        Assert.Null(Lines.Assess(Lines.I4, [.. low, Lines.Reading("leak-down", 2, """{"percent":6,"hear":"none"}""")]).Conclusion);
    }

    [Fact]
    public void Where_oil_stands_in_the_well_and_nothing_else_is_left_the_seals_may_be_renewed_unproven()
    {
        string[] all =
        [
            .. Enumerable.Range(1, 4).Select(c => Lines.Reading("misfire-counts", c, c == 2 ? Misfires : """{"misfires":1,"revolutions":1000}""")), .. Lines.Balance(4),
            .. Twice(Lines.Reading("plug-condition", 2, """{"gapMm":1,"look":"normal","well":"oil"}""")), .. Twice(Lines.Reading("spark-output", 2, """{"gapMm":20,"jumps":"steady"}""")),
            .. Twice(Lines.Reading("coil-swap", 2, """{"swappedWith":3,"misfireMovedTo":2}""")), Lines.Reading("plug-swap", 2, """{"swappedWith":3,"misfireMovedTo":2}"""),
            Lines.Reading("injector-swap", 2, """{"swappedWith":3,"misfireMovedTo":2}"""), Lines.Reading("coil-control", 2, """{"signal":"present"}"""), Lines.Reading("coil-feed", 2, """{"volts":12.5}"""),
            Lines.Reading("injector-sound", 2, """{"sound":"ticking"}"""), Lines.Reading("intake-leak", 2, """{"found":"no"}"""), Lines.Reading("leak-down", 2, """{"percent":6,"hear":"none"}"""),
            Lines.Reading("compression-running", 2, """{"idleKPa":400,"snapKPa":800}"""), Lines.Reading("borescope", 2, """{"seen":"normal"}"""),
            Lines.Reading("intake-ports", 2, """{"seen":"clean"}"""),
            """{"bank":1,"test":"fuel-trims","value":{"idle":{"shortPercent":1,"longPercent":0},"2500rpm":{"shortPercent":1,"longPercent":0}}}""",
            """{"test":"road-check","value":{"conditions":["load"]}}""", """{"test":"trouble-codes","value":{"codes":["P0302"]}}""", """{"test":"manifold-vacuum","value":{"kPa":66,"needle":"steady"}}""",
            .. Enumerable.Range(1, 4).SelectMany(c => new[]
            {
                Lines.Reading("misfire-counts", c, c == 2 ? Misfires : """{"misfires":1,"revolutions":1000}"""), Lines.Reading("cranking-current", c, """{"relativePercent":99}"""),
                Lines.Reading("injector-drop", c, """{"startKPa":380,"endKPa":316}"""), Lines.Reading("compression-dry", c, """{"kPa":1220}"""),
            }),
            .. new[] { 1, 3, 4 }.Select(c => Lines.Reading("plug-condition", c, """{"gapMm":1,"look":"normal","well":"dry"}""")),
        ];
        // Its covers take so long that the bounds of an unproven repair in the middle of a search would keep it back.
        var covered = Lines.I4[..^1] + ""","accessMinutes":{"1":60}}""";
        var answer = Lines.Assess(covered, all);

        Assert.Null(answer.Conclusion);
        var trial = Assert.Single(answer.Next, n => n.Unproven);
        Assert.Contains("well", trial.Repair!.Summary, StringComparison.Ordinal);
        Assert.Contains("no test that is left", trial.Because, StringComparison.Ordinal);
    }

    [Fact]
    public void Where_all_else_is_excluded_and_nothing_is_left_to_read_the_repair_may_be_tried_though_nothing_speaks_for_it()
    {
        // A coil of two cylinders that fails under load only: at idle all is well, and the coils are one block that cannot be exchanged.
        string[] readings =
        [
            """{"test":"trouble-codes","value":{"codes":["P0301","P0304"]}}""", .. Enumerable.Range(1, 4).Select(c => Lines.Reading("misfire-counts", c, c is 1 or 4 ? Misfires : """{"misfires":1,"revolutions":1000}""")),
            .. Lines.Balance(4), Lines.Reading("spark-output", 4, """{"gapMm":20,"jumps":"steady"}"""), Lines.Reading("spark-output", 1, """{"gapMm":20,"jumps":"steady"}"""),
            """{"test":"manifold-vacuum","value":{"kPa":66,"needle":"steady"}}""", Lines.Reading("plug-condition", 1, """{"gapMm":1,"look":"normal","well":"dry"}"""), Lines.Reading("plug-condition", 4, """{"gapMm":1,"look":"normal","well":"dry"}"""),
            .. new[] { 1, 4 }.SelectMany(c => new[] { Lines.Reading("injector-sound", c, """{"sound":"ticking"}"""), Lines.Reading("coil-feed", c, """{"volts":12.4}"""), Lines.Reading("injector-control", c, """{"signal":"pulsing"}""") }),
            """{"bank":1,"test":"fuel-trims","value":{"idle":{"shortPercent":1,"longPercent":0},"2500rpm":{"shortPercent":1,"longPercent":0}}}""",
        ];
        var workup = Lines.Workup(Lines.I4WasteSpark, readings);
        var before = Diagnostician.Assess(workup, Knowledge.Shipped);
        while (Diagnostician.Assess(workup, Knowledge.Shipped).Next.FirstOrDefault(n => n.Test is not null) is { Test: { } test })
        {
            workup = workup with { Obstacles = workup.Obstacles.Add(new Obstacle(test, Place.Engine)) };
        }

        var end = Diagnostician.Assess(workup, Knowledge.Shipped);
        Assert.InRange(end.Causes[0].Probability, 0.9, 1);
        Assert.DoesNotContain(before.Next, n => n.Repair is not null);
        var repair = Assert.Single(end.Next);
        Assert.True(repair.Unproven);
        Assert.Equal(Place.Pair(1, 4), repair.At);
    }

    [Fact]
    public void No_part_is_tried_on_codes_and_counts_alone()
    {
        string[] counted =
        [
            .. Enumerable.Range(1, 4).Select(c => Lines.Reading("misfire-counts", c, c is 2 or 3 ? Misfires : """{"misfires":1,"revolutions":1000}""")), .. Lines.Balance(4, 2, 3),
            """{"test":"trouble-codes","value":{"codes":["P0302","P0303"]}}""",
        ];
        var alone = Lines.Assess(Lines.I4WasteSpark, counted);
        var looked = Lines.Assess(Lines.I4WasteSpark, [.. counted, Lines.Reading("spark-output", 2, """{"gapMm":20,"jumps":"none"}""")]);

        Assert.True(alone.Cause("shared-coil-failed", Place.Pair(2, 3)).Probability > UnprovenFrom);
        Assert.DoesNotContain(alone.Next, n => n.Unproven);
        Assert.Contains(looked.Next, n => n.Unproven && n.At == Place.Pair(2, 3));
    }

    private static string[] Twice(string reading) => [reading, reading];
}
