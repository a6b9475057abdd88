using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.Tests.Workups;

/// <summary>Whole ways from complaint to proof, and the rules that makers print.</summary>
public sealed class DiagnosticianWayTests
{
    private const string NoSpark = """{"gapMm":20,"jumps":"none"}""";
    private const string Moved = """{"swappedWith":1,"misfireMovedTo":1}""";
    private const string Strong = """{"gapMm":20,"jumps":"steady"}""";

    [Fact]
    public void No_spark_with_feed_and_control_proves_the_coil()
    {
        var answer = Lines.Assess(
            Lines.V6,
            [.. Lines.Balance(6, 4), Lines.Reading("spark-output", 4, NoSpark), Lines.Reading("coil-feed", 4, """{"volts":12.4}"""), Lines.Reading("coil-control", 4, """{"signal":"present"}""")]);

        Assert.NotNull(answer.Conclusion);
        Assert.Equal(new ProvenCause("coil-failed", Place.Cylinder(4)), Assert.Single(answer.Conclusion.Causes));
        Assert.Contains(answer.Conclusion.Proof, p => p.Test == "spark-output" && p.Outcome == "none");
        Assert.Contains(answer.Conclusion.Repair.Parts, p => p.Part.Contains("coil", StringComparison.OrdinalIgnoreCase) && p.At == Place.Cylinder(4) && p.Quantity == 1);
        Assert.NotNull(answer.Next[0].Repair);
        Assert.Contains(answer.Next, n => n.Stage == Stage.After && n.Test is not null);
        Assert.Equal(CylinderCondition.Dead, answer.Cylinders[3].State);
    }

    [Fact]
    public void A_misfire_that_follows_the_coil_proves_the_coil_once_it_has_followed_it_twice()
    {
        var once = Lines.Assess(Lines.V6, [.. Lines.Balance(6, 4), Lines.Reading("coil-swap", 4, Moved)]);
        var twice = Lines.Assess(Lines.V6, [.. Lines.Balance(6, 4), Lines.Reading("coil-swap", 4, Moved), Lines.Reading("coil-swap", 4, Moved)]);

        Assert.Null(once.Conclusion);
        Assert.Contains(once.Next, n => n.Test is "coil-swap" or "spark-output" && n.At == Place.Cylinder(4));
        Assert.Equal("coil-failed", Assert.Single(twice.Conclusion!.Causes).Cause);
    }

    [Fact]
    public void A_misfire_that_follows_a_coil_without_a_proper_spark_proves_the_coil_at_once()
    {
        var answer = Lines.Assess(Lines.V6, [.. Lines.Balance(6, 4), Lines.Reading("spark-output", 4, NoSpark), Lines.Reading("coil-swap", 4, Moved)]);

        Assert.Equal("coil-failed", Assert.Single(answer.Conclusion!.Causes).Cause);
    }

    [Fact]
    public void No_spark_alone_proves_nothing()
    {
        var answer = Lines.Assess(Lines.V6, [.. Lines.Balance(6, 4), Lines.Reading("spark-output", 4, NoSpark)]);

        Assert.Null(answer.Conclusion);
        Assert.All(answer.Causes, c => Assert.False(c.Proven));
        Assert.All(answer.Causes, c => Assert.InRange(c.Probability, 0, 0.99));
    }

    [Fact]
    public void A_coil_that_the_misfire_follows_and_that_sparks_strongly_is_a_contradiction_to_retake()
    {
        var answer = Lines.Assess(
            Lines.V6,
            [.. Lines.Balance(6, 4), Lines.Reading("spark-output", 4, Strong), Lines.Reading("coil-swap", 4, """{"swappedWith":1,"misfireMovedTo":1}""")]);

        var contradiction = Assert.Single(answer.Contradictions);
        Assert.Equal(Place.Cylinder(4), contradiction.At);
        Assert.Null(answer.Conclusion);
        Assert.Equal(contradiction.Retake, answer.Next[0].Test);
    }

    [Fact]
    public void Low_compression_that_oil_raises_points_to_the_rings()
    {
        // GM compression test text: "rings: improves considerably with oil" (facts 5.3).
        var answer = Lines.Assess(
            Lines.I4,
            [.. Lines.Balance(4), Lines.Reading("power-balance", 2, """{"baseRpm":[702,700],"cancelledRpm":[671,668]}""", ",\"supersedes\":1"), .. Compression(2, 650), Lines.Reading("compression-wet", 2, """{"kPa":980}""")]);

        Assert.Equal(("rings-worn", Place.Cylinder(2)), Leading(answer));
    }

    [Fact]
    public void Low_compression_that_oil_does_not_raise_points_to_a_valve()
    {
        // GM compression test text: "valves: little improvement with oil" (facts 5.3).
        var answer = Lines.Assess(
            Lines.I4,
            [.. Lines.Balance(4, 2), .. Compression(2, 500), Lines.Reading("compression-wet", 2, """{"kPa":515}""")]);

        Assert.Contains(Leading(answer).Cause, new[] { "exhaust-valve-leak", "intake-valve-leak" });
        Assert.Equal(Place.Cylinder(2), Leading(answer).At);
    }

    [Fact]
    public void Two_neighbours_low_that_oil_does_not_raise_point_to_the_gasket_between_them()
    {
        // GM and Land Rover compression test text (facts 5.3): two adjacent cylinders low and oil does not help.
        var answer = Lines.Assess(
            Lines.I4,
            [
                .. Lines.Balance(4, 2, 3),
                Lines.Reading("compression-dry", 1, """{"kPa":1200}"""), Lines.Reading("compression-dry", 2, """{"kPa":420}"""),
                Lines.Reading("compression-dry", 3, """{"kPa":430}"""), Lines.Reading("compression-dry", 4, """{"kPa":1210}"""),
                Lines.Reading("compression-wet", 2, """{"kPa":430}"""), Lines.Reading("compression-wet", 3, """{"kPa":440}"""),
            ]);

        Assert.Equal(("head-gasket-neighbours", Place.Pair(2, 3)), Leading(answer));
    }

    [Fact]
    public void Leakage_heard_at_the_tailpipe_with_low_compression_proves_the_exhaust_valve()
    {
        // Escape table of makers' manuals (facts 6.3: Chrysler 2002, GM 2005).
        var answer = Lines.Assess(
            Lines.I4, [.. Lines.Balance(4, 2), .. Compression(2, 500), Lines.Reading("leak-down", 2, """{"percent":62,"hear":"exhaust"}""")]);

        Assert.Equal(new ProvenCause("exhaust-valve-leak", Place.Cylinder(2)), Assert.Single(answer.Conclusion!.Causes));
    }

    [Fact]
    public void Companions_dead_together_without_spark_point_to_their_shared_coil()
    {
        // GM, Buick 2004 Century, DTC P0300-P0306 step 6 (facts 2): counts at companion cylinders.
        var answer = Lines.Assess(
            Lines.I4WasteSpark, [.. Lines.Balance(4, 2, 3), Lines.Reading("spark-output", 2, NoSpark), Lines.Reading("spark-output", 3, NoSpark)]);

        Assert.Equal(Place.Pair(2, 3), Leading(answer).At);
    }

    [Fact]
    public void After_a_repair_that_ended_the_misfire_nothing_is_left_to_do()
    {
        var after = Enumerable.Range(1, 6).Select(c => Lines.Reading("power-balance", c, """{"baseRpm":[702,700],"cancelledRpm":[641,638]}""", ",\"stage\":\"after\""));

        var answer = Lines.Assess(
            Lines.V6, [.. Lines.Balance(6, 4), Lines.Reading("spark-output", 4, NoSpark), Lines.Reading("coil-swap", 4, Moved), .. after]);

        Assert.Empty(answer.Next);
        Assert.Equal(CylinderCondition.Contributing, answer.Cylinders[3].State);
    }

    [Fact]
    public void A_good_reading_elsewhere_after_the_repair_does_not_clear_the_repaired_cylinder()
    {
        var answer = Lines.Assess(
            Lines.V6,
            [
                .. Lines.Balance(6, 4), Lines.Reading("spark-output", 4, NoSpark), Lines.Reading("coil-swap", 4, Moved),
                Lines.Reading("misfire-counts", 1, """{"misfires":0,"revolutions":1000}""", ",\"stage\":\"after\""),
            ]);

        Assert.NotEmpty(answer.Next);
        Assert.All(answer.Next, n => Assert.Equal(Stage.After, n.Stage));
        Assert.DoesNotContain(answer.Warnings, w => w.Contains("nothing wrong any more", StringComparison.Ordinal));
    }

    [Fact]
    public void After_a_repair_that_did_not_end_the_misfire_the_workup_goes_on()
    {
        var after = Enumerable.Range(1, 6).Select(c => Lines.Reading(
            "power-balance", c, c == 2 ? """{"baseRpm":[702,700],"cancelledRpm":[700,698]}""" : """{"baseRpm":[702,700],"cancelledRpm":[641,638]}""", ",\"stage\":\"after\""));

        var answer = Lines.Assess(
            Lines.V6, [.. Lines.Balance(6, 4), Lines.Reading("spark-output", 4, NoSpark), Lines.Reading("coil-swap", 4, Moved), .. after]);

        Assert.Null(answer.Conclusion);
        Assert.Equal(Place.Cylinder(2), Leading(answer).At);
        Assert.Equal(Place.Cylinder(2), answer.Next[0].At);
        Assert.All(answer.Next, n => Assert.Equal(Stage.After, n.Stage));
    }

    [Fact]
    public void A_second_fault_is_proven_by_readings_taken_after_the_first_repair()
    {
        const string after = ",\"stage\":\"after\"";
        var balance = Enumerable.Range(1, 6).Select(c => Lines.Reading(
            "power-balance", c, c == 2 ? """{"baseRpm":[702,700],"cancelledRpm":[700,698]}""" : """{"baseRpm":[702,700],"cancelledRpm":[641,638]}""", after));

        var answer = Lines.Assess(
            Lines.V6,
            [
                .. Lines.Balance(6, 4), Lines.Reading("spark-output", 4, NoSpark), Lines.Reading("coil-swap", 4, Moved), .. balance,
                Lines.Reading("spark-output", 2, NoSpark, after), Lines.Reading("coil-swap", 2, Moved, after),
            ]);

        Assert.Equal(new ProvenCause("coil-failed", Place.Cylinder(2)), Assert.Single(answer.Conclusion!.Causes));
    }

    [Fact]
    public void A_flashing_lamp_warns_of_the_catalyst()
    {
        var answer = Diagnostician.Assess(Lines.Workup(Lines.I4, [], """{"lamp":"flashing"}"""), Knowledge.Shipped);

        Assert.Contains(answer.Warnings, w => w.Contains("catalytic", StringComparison.Ordinal));
    }

    [Fact]
    public void A_covered_bank_costs_its_access_once()
    {
        var covered = Lines.V6[..^1] + ""","accessMinutes":{"2":40}}""";
        var before = Lines.Assess(covered, [.. Lines.Balance(6, 4)]);
        var opened = Lines.Assess(covered, [.. Lines.Balance(6, 4), Lines.Reading("coil-feed", 4, """{"volts":12.4}""")]);

        var sparkBefore = before.Next.Single(n => n.Test == "spark-output" && n.At == Place.Cylinder(4));
        var sparkOpened = opened.Next.Single(n => n.Test == "spark-output" && n.At == Place.Cylinder(4));
        Assert.Equal(40, sparkBefore.Minutes - sparkOpened.Minutes, 6);
    }

    private static IEnumerable<string> Compression(int low, int kPa) => Enumerable.Range(1, 4).Select(c =>
        Lines.Reading("compression-dry", c, $$"""{"kPa":{{(c == low ? kPa : 1200 + c)}}}"""));

    private static (string Cause, Place At) Leading(Assessment answer) => (answer.Causes[0].Cause, answer.Causes[0].At);
}
