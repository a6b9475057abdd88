using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.Tests.Workups;

/// <summary>A search never ends in silence: what is all but certain is named, what a set of parts mends is counted together.</summary>
public sealed class NothingLeftTests
{
    private const string Strong = """{"gapMm":20,"jumps":"steady"}""";
    private const string NoSpark = """{"gapMm":20,"jumps":"none"}""";
    private const string Clean = """{"misfires":1,"revolutions":1000}""";
    private const string Misfires = """{"misfires":300,"revolutions":1000}""";
    private const string Worn = """{"gapMm":1.7,"look":"worn","well":"dry"}""";
    private const string Normal = """{"gapMm":1,"look":"normal","well":"dry"}""";

    /// <summary>No signal at the coil of two cylinders, which hardly sparks; but somebody read the spark of both strong twice, so that no proof can be completed.</summary>
    private static readonly string[] NotToldToFire =
    [
        .. Counts(2, 3), .. Lines.Balance(4, 2, 3), """{"test":"trouble-codes","value":{"codes":["P0302","P0303","P0352"]}}""",
        .. Twice([Lines.Reading("coil-control", 2, """{"signal":"absent"}"""), Lines.Reading("coil-control", 3, """{"signal":"absent"}""")]),
        Lines.Reading("coil-feed", 2, """{"volts":12.4}"""), Lines.Reading("coil-feed", 3, """{"volts":12.4}"""), Lines.Reading("spark-output", 3, NoSpark),
    ];

    /// <summary>The cams stand wrong, seen twice; what a proof still lacks cannot be read on this car.</summary>
    private static readonly string[] OutOfStep = [.. Counts(1, 2, 3, 4), .. Lines.Balance(4), .. Enumerable.Range(1, 4).Select(c => Lines.Reading("plug-condition", c, Normal)), Lines.Reading("enrichment", 1, """{"misfires":"same"}"""), .. Twice(["""{"bank":1,"test":"cam-timing","value":{"correlation":"off"}}"""]), """{"test":"intake-leak","value":{"found":"no","where":""}}""", """{"test":"egr-block","value":{"misfireGone":"no"}}""",
        .. Twice(["""{"bank":1,"test":"cam-timing","value":{"correlation":"off"}}"""]), """{"test":"crank-signal","value":{"signal":"even"}}""", """{"test":"fuel-sample","value":{"seen":"clean"}}""",
        """{"test":"system-voltage","value":{"volts":14.1,"groundDropVolts":0.05}}""", """{"bank":1,"test":"exhaust-backpressure","value":{"kPaAtIdle":2.5,"kPaAt2500":7.8}}""",
        """{"bank":1,"test":"fuel-trims","value":{"idle":{"shortPercent":1,"longPercent":0},"2500rpm":{"shortPercent":1,"longPercent":0}}}"""];

    /// <summary>Rings by every reading but the compression, which is good: no proof can be completed.</summary>
    private static readonly string[] BlowsPast =
    [
        .. Counts(2), .. Lines.Balance(4, 2), .. Twice([.. Enumerable.Range(1, 4).Select(c => Lines.Reading("cranking-current", c, c == 2 ? """{"relativePercent":68}""" : """{"relativePercent":99}"""))]),
        .. Twice([Lines.Reading("leak-down", 2, """{"percent":90,"hear":"crankcase"}"""), Lines.Reading("plug-condition", 2, """{"gapMm":1,"look":"oil-fouled","well":"dry"}"""), Lines.Reading("borescope", 2, """{"seen":"normal"}""")]),
        Lines.Reading("spark-output", 2, Strong), Lines.Reading("injector-sound", 2, """{"sound":"ticking"}"""), Lines.Reading("valve-clearance", 2, """{"intakeMm":0.2,"exhaustMm":0.3}"""),
        .. Twice([.. Enumerable.Range(1, 4).Select(c => Lines.Reading("compression-dry", c, c == 2 ? """{"kPa":1100}""" : """{"kPa":1200}"""))]),
    ];

    [Fact]
    public void What_must_first_be_found_is_looked_for_once_all_else_is_excluded_and_nothing_is_left_to_read()
    {
        Assert.DoesNotContain(Lines.Assess(Lines.I4WasteSpark, NotToldToFire).Next, n => n.Repair is not null);

        var (end, trial) = End(Lines.I4WasteSpark, NotToldToFire);

        Assert.Equal("coil-control-lost", end.Causes[0].Cause);
        Assert.Equal(Place.Pair(2, 3), trial.At);
        Assert.Contains("find the spot first", trial.Because, StringComparison.Ordinal);
        Assert.Contains("not proven", trial.Because, StringComparison.Ordinal);
    }

    [Fact]
    public void A_large_repair_is_named_too_once_it_is_all_but_certain_and_says_to_look_before_parts_are_ordered()
    {
        var (end, trial) = End(Lines.I4, OutOfStep);

        Assert.Equal("cam-timing-off", end.Causes[0].Cause);
        Assert.InRange(end.Causes[0].Probability, 0.9, 1);
        Assert.True(trial.Minutes > 180, $"{trial.Minutes} minutes: no large repair");
        Assert.Contains("before parts are ordered", trial.Because, StringComparison.Ordinal);
    }

    [Fact]
    public void What_takes_an_engine_apart_is_not_tried_on_a_belief_and_the_answer_says_that_nothing_is_left()
    {
        var end = AtTheEnd(Lines.I4, BlowsPast);

        Assert.Equal("rings-worn", end.Causes[0].Cause);
        Assert.InRange(end.Causes[0].Probability, 0.9, 1);
        Assert.Empty(end.Next);
        Assert.Contains(end.Warnings, w => w.StartsWith("Nothing that is left to read tells more. Likeliest is piston rings worn", StringComparison.Ordinal) && w.Contains("in writing", StringComparison.Ordinal));
        Assert.DoesNotContain(Lines.Assess(Lines.I4, BlowsPast).Warnings, w => w.StartsWith("Nothing that is left", StringComparison.Ordinal));
    }

    [Fact]
    public void Worn_plugs_of_several_cylinders_are_one_repair_and_count_together()
    {
        string[] again = [Lines.Reading("plug-condition", 1, Worn)];
        var workup = Lines.Workup(Lines.I4WasteSpark, WornAt(1, 3, 4));
        // Without a second look and a leak-down the proof is far.
        var trial = Assert.Single(Diagnostician.Assess(workup with { Obstacles = [new Obstacle("plug-condition", Place.Engine), new Obstacle("plug-swap", Place.Engine)] }, Knowledge.Shipped).Next, n => n.Repair is not null);
        var proven = Lines.Assess(Lines.I4WasteSpark, [.. WornAt(1, 3, 4), .. again]);

        Assert.All(Enumerable.Range(1, 4), c => Assert.InRange(proven.Cause("plug-worn", Place.Cylinder(c)).Probability, 0, 0.59));
        Assert.Equal(new ProvenCause("plug-worn", Place.Cylinder(1)), Assert.Single(proven.Conclusion!.Causes));
        Assert.All([trial.Repair!, proven.Conclusion.Repair], r => Assert.Equal(4, Assert.Single(r.Parts).Quantity));
    }

    [Fact]
    public void A_set_of_plugs_that_was_renewed_in_vain_makes_worn_plugs_unlikely_at_every_cylinder()
    {
        var before = Lines.Assess(Lines.I4WasteSpark, WornAt(1, 3, 4));
        var after = Diagnostician.Assess(Tried("plug-worn", 1, Lines.I4WasteSpark, [.. WornAt(1, 3, 4), .. Counts([1, 3, 4], After)]), Knowledge.Shipped);

        Assert.All(
            from cylinder in Enumerable.Range(1, 4) from cause in new[] { "plug-worn", "plug-fouled", "plug-cracked" } select (cause, Place.Cylinder(cylinder)),
            p => Assert.True(after.Cause(p.cause, p.Item2).PriorBits < before.Cause(p.cause, p.Item2).PriorBits - 3));
    }

    [Fact]
    public void A_plug_well_seen_wet_and_dry_does_not_keep_open_what_rests_on_the_look_of_the_plug()
    {
        string[] spring =
        [
            .. Counts(2), .. Lines.Balance(4), .. Twice([Lines.Reading("valve-springs", 2, """{"seen":"broken"}""")]), Lines.Reading("spark-output", 2, Strong),
            Lines.Reading("injector-sound", 2, """{"sound":"ticking"}"""), Lines.Reading("intake-leak", 2, """{"found":"no"}"""),
        ];
        string[] wells = [Lines.Reading("plug-condition", 2, """{"gapMm":1,"look":"normal","well":"oil"}"""), Lines.Reading("plug-condition", 2, Normal)];
        var answer = Lines.Assess(Lines.I4, [.. spring, .. wells]);

        Assert.Contains(answer.Contradictions, c => c.Retake == "plug-condition");
        Assert.Equal("valve-spring-weak", Assert.Single(answer.Conclusion!.Causes).Cause);
    }

    [Theory]
    [InlineData(2, true)]
    [InlineData(3, false)]
    public void Looks_that_disagree_are_asked_for_until_there_are_three(int looks, bool asked)
    {
        string[] seen = ["oil", "dry", "water"];
        var answer = Lines.Assess(Lines.I4, [.. Counts(2), .. seen.Take(looks).Select(well => Lines.Reading("plug-condition", 2, $$"""{"gapMm":1,"look":"normal","well":"{{well}}"}"""))]);

        Assert.Equal(asked, answer.Contradictions.Any(c => c.Retake == "plug-condition"));
    }

    private const string After = ""","stage":"after" """;

    private static string[] WornAt(params int[] worn) =>
    [
        .. Counts(worn), .. Lines.Balance(4, worn), .. Enumerable.Range(1, 4).Select(c => Lines.Reading("cranking-current", c, """{"relativePercent":99}""")), """{"test":"intake-leak","value":{"found":"no","where":""}}""", .. worn.SelectMany(c => new[] { Lines.Reading("spark-output", c, Strong), Lines.Reading("leads-and-cap", c, """{"seen":"sound"}"""),
            Lines.Reading("plug-condition", c, Worn), Lines.Reading("injector-control", c, """{"signal":"pulsing"}"""), Lines.Reading("coil-control", c, """{"signal":"present"}"""), Lines.Reading("injector-sound", c, """{"sound":"ticking"}""") }),
    ];

    private static string[] Counts(params int[] misfiring) => Counts(misfiring, "");

    private static string[] Counts(int[] misfiring, string stage) =>
        [.. Enumerable.Range(1, 4).Select(c => Lines.Reading("misfire-counts", c, misfiring.Contains(c) ? Misfires : Clean, stage))];

    private static string[] Twice(string[] readings) => [.. readings, .. readings];

    private static Workup Tried(string cause, int cylinder, string engine, string[] readings) =>
        Lines.Workup(engine, readings) with { TriedRepairs = [new ProvenCause(cause, Place.Cylinder(cylinder))] };

    /// <summary>The answer once every test that it asks for cannot be taken on this car, and the repair that it then advises.</summary>
    private static (Assessment Answer, NextStepAdvice Trial) End(string engine, string[] readings)
    {
        var end = AtTheEnd(engine, readings);
        Assert.Null(end.Conclusion);
        var trial = Assert.Single(end.Next);
        Assert.True(trial.Unproven);
        return (end, trial);
    }

    private static Assessment AtTheEnd(string engine, string[] readings)
    {
        var workup = Lines.Workup(engine, readings);
        while (Diagnostician.Assess(workup, Knowledge.Shipped).Next.FirstOrDefault(n => n.Test is not null) is { Test: { } test })
        {
            workup = workup with { Obstacles = workup.Obstacles.Add(new Obstacle(test, Place.Engine)) };
        }

        return Diagnostician.Assess(workup, Knowledge.Shipped);
    }
}
