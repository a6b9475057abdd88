using CsCheck;
using ShopDiag.Diagnosis.Causes;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Evidence;
using ShopDiag.Diagnosis.Tests.Reasoning;
using ShopDiag.Diagnosis.Wire;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.Tests.Workups;

/// <summary>What the reasoning makes of an earlier repair when the trouble is back.</summary>
public sealed class EarlierRepairTests
{
    private static readonly Place Two = Place.Cylinder(2);

    [Fact]
    public void A_new_coil_is_less_likely_the_fault_again_and_its_connector_more()
    {
        var (before, after) = (Assess(), Assess(Repaired("coil-failed", Two)));
        Assert.True(after.Cause("coil-failed", Two).Probability < before.Cause("coil-failed", Two).Probability / 3);
        Assert.True(after.Cause("coil-control-lost", Two).Probability > 4 * before.Cause("coil-control-lost", Two).Probability);
        Assert.True(after.Cause("coil-feed-lost", Two).Probability > 4 * before.Cause("coil-feed-lost", Two).Probability);
        Assert.True(after.Cause("connections-crossed", Place.Pair(1, 2)).Probability > 4 * before.Cause("connections-crossed", Place.Pair(1, 2)).Probability);
    }

    [Fact]
    public void The_plug_that_came_with_the_coil_is_new_too() =>
        Assert.True(Assess(Repaired("coil-failed", Two)).Cause("plug-worn", Two).Probability < 0.6 * Assess().Cause("plug-worn", Two).Probability);

    [Fact]
    public void Other_cylinders_keep_their_order_and_no_reason_is_given_there()
    {
        var after = Assess(Repaired("coil-failed", Two));
        var (at, before) = (Place.Cylinder(4), Assess());
        Assert.Empty(after.Cause("coil-failed", at).Earlier);
        Assert.Equal(
            before.Cause("coil-failed", at).Probability / before.Cause("injector-clogged", at).Probability, after.Cause("coil-failed", at).Probability / after.Cause("injector-clogged", at).Probability, 0.01);
    }

    [Fact]
    public void The_reason_names_the_order_and_says_how_much()
    {
        var answer = Assess(Repaired("coil-failed", Two));
        var fresh = Assert.Single(answer.Cause("coil-failed", Two).Earlier);
        Assert.Equal("order 1002", fresh.Order);
        Assert.Equal(Math.Log2(0.2), fresh.Bits, 9);
        Assert.Equal("Ignition coil: a new one was fitted here on order 1002. A new part is seldom the fault, but it can be faulty, or the wrong one.", fresh.Because);
        var loose = Assert.Single(answer.Cause("coil-control-lost", Two).Earlier);
        Assert.Equal(3, loose.Bits, 9);
        Assert.Contains("order 1002", loose.Because, StringComparison.Ordinal);
    }

    [Fact]
    public void What_to_look_at_first_is_said_once_for_each_kind_of_part()
    {
        var warnings = Assess(Repaired("coil-failed", Two)).Warnings.Where(w => w.StartsWith("The trouble of order 1002 is back", StringComparison.Ordinal)).ToArray();
        Assert.Equal(2, warnings.Length);
        Assert.Contains("ignition coil, cylinder 2", warnings[0], StringComparison.Ordinal);
        Assert.Contains("spark plug, cylinder 2", warnings[1], StringComparison.Ordinal);
        Assert.Empty(Assess().Warnings);
    }

    [Fact]
    public void A_cause_mended_without_a_part_of_its_own_counts_as_mended()
    {
        var mended = new EarlierRepair("order 7", [new("coil-boot-leak", Two)], []);
        Assert.Contains("mended here on order 7", Assert.Single(Assess(mended).Cause("coil-boot-leak", Two).Earlier).Because, StringComparison.Ordinal);
    }

    [Fact]
    public void The_same_repair_on_two_orders_counts_once()
    {
        var (one, other) = (Repaired("coil-failed", Two), Repaired("coil-failed", Two) with { Order = "order 1001" });
        Assert.Equal(Assess(one).Cause("coil-failed", Two).Probability, Assess(one, other).Cause("coil-failed", Two).Probability, 12);
    }

    [Fact]
    public void Readings_still_have_the_last_word()
    {
        string[] readings = [Lines.Reading("spark-output", 2, """{"gapMm":20,"jumps":"none"}"""), Lines.Reading("coil-swap", 2, """{"swappedWith":1,"misfireMovedTo":1}""")];
        var answer = Diagnostician.Assess(Lines.Workup(Lines.I4, readings) with { EarlierRepairs = [Repaired("coil-failed", Two)] }, Knowledge.Shipped);
        Assert.Equal(("coil-failed", Two, true), (answer.Causes[0].Cause, answer.Causes[0].At, answer.Causes[0].Proven));
    }

    [Fact]
    public void Priors_add_up_to_one_with_an_earlier_repair_and_without_counting_it()
    {
        // In a world where no two faults go together, so that marginals are the shares of single faults.
        var knowledge = World(0.2, 5);
        var answer = Diagnostician.Assess(SmallWorld.Workup(SmallWorld.Twin) with { EarlierRepairs = [new("order 1", [new("old", Place.Cylinder(1))], [])] }, knowledge);
        Assert.Equal(1, answer.Causes.Sum(c => c.Probability), 9);
        Assert.Equal(1, answer.Causes.Sum(c => Math.Pow(2, c.PriorBits)), 9);
        // By hand: four equal shares, one of them at a fifth.
        Assert.Equal(0.2 / 3.2, answer.Cause("old", Place.Cylinder(1)).Probability, 9);
        Assert.Equal(1 / 3.2, answer.Cause("other", Place.Cylinder(2)).Probability, 9);
    }

    [Fact]
    public void Prior_earlier_repair_readings_pairs_and_the_common_term_add_up_to_the_posterior_shown() =>
        Gen.Select(Gen.Int[0, Causes.Length - 1], Gen.Int[1, 4], Gen.OneOf("steady", "weak", "none"), Gen.OneOf("ticking", "silent")).Sample(
            (cause, cylinder, jumps, sound) =>
            {
                var at = Place.Cylinder(cylinder);
                string[] readings = [Lines.Reading("spark-output", cylinder, $$"""{"gapMm":20,"jumps":"{{jumps}}" }"""), Lines.Reading("injector-sound", cylinder, $$"""{"sound":"{{sound}}" }""")];
                var answer = Diagnostician.Assess(Lines.Workup(Lines.I4, readings) with { EarlierRepairs = [Repaired(Causes[cause], at)] }, Knowledge.Shipped);
                return answer.Causes.All(c => c.Earlier.Length <= 2
                    && Math.Abs(c.PriorBits + c.Earlier.Sum(e => e.Bits) + c.Evidence.Sum(e => e.Bits) + c.PairBits + answer.CommonBits - Math.Log2(c.Probability)) < 1e-6);
            },
            iter: 60);

    [Fact]
    public void Every_part_that_a_repair_fits_has_a_rule_or_leaves_nothing_behind()
    {
        string[] nothing = ["Coolant", "Fresh fuel"];
        Assert.Equal(
            nothing, Knowledge.Shipped.Causes.SelectMany(c => c.Repair.Parts).Select(p => p.Part).Distinct().Where(p => Knowledge.Shipped.AfterRepair.For(p) is null).Order(StringComparer.Ordinal));
    }

    [Theory]
    [InlineData(0, 1, "never impossible")]
    [InlineData(0.2, 0, "'times' must be above 0")]
    [InlineData(0.2, 21, "at most 20")]
    public void Rules_that_cannot_be_are_refused(double fresh, double times, string said) =>
        Assert.Contains(said, Assert.Throws<InvalidOperationException>(() => World(fresh, times)).Message, StringComparison.Ordinal);

    [Fact]
    public void An_earlier_repair_travels_in_the_workup_line_and_its_effect_in_the_answer()
    {
        var line = $$"""{"id":"w","engine":{{Lines.I4}},"earlier":[{"order":"order 1002","causes":[{"cause":"coil-failed","at":{"cylinder":2} } ] } ] }""";
        var workup = Lines.Read(line);
        Assert.Equal(Repaired("coil-failed", Two).Parts, Assert.Single(workup.EarlierRepairs).Parts);
        var first = Lines.Json(AssessmentJson.Write(Diagnostician.Assess(workup, Knowledge.Shipped)))["causes"]!.AsArray().First(c => (string?)c!["cause"] == "coil-failed" && (int?)c["at"]!["cylinder"] == 2)!;
        Assert.Equal("order 1002", (string?)first["earlier"]![0]!["order"]);
        Assert.Equal(-2.3219, (double)first["earlier"]![0]!["effect"]!);
    }

    [Theory]
    [InlineData("""{"causes":[{"cause":"coil-tired","at":{"cylinder":2}}]}""", "earlier[0].causes[0].cause")]
    [InlineData("""{"causes":[{"cause":"coil-failed","at":{"cylinder":9}}]}""", "earlier[0].causes[0].at")]
    [InlineData("""{"causes":[{"cause":"coil-failed"}]}""", "earlier[0].causes[0].at")]
    [InlineData("""{"order":"order 1"}""", "earlier[0]")]
    [InlineData("\"order 1\"", "earlier[0]")]
    public void What_cannot_have_been_repaired_is_refused_and_said_where(string earlier, string at) =>
        Assert.Equal(at, WorkupJson.Read($$"""{"engine":{{Lines.I4}},"earlier":[{{earlier}}]}""", Knowledge.Shipped).Workup.Error!.At);

    private static readonly string[] Causes = [.. Knowledge.Shipped.Causes.Where(c => c is { Unlisted: false, Scope: CauseScope.Cylinder } && c.Suits(Ignition.CoilOnPlug, Injection.Port)).Select(c => c.Id)];

    private static EarlierRepair Repaired(string cause, Place at) =>
        new("order 1002", [new(cause, at)], RepairPlan.For(Lines.Workup(Lines.I4, []).Engine, [(Knowledge.Shipped.Cause(cause)!, at)]).Parts);

    private static Assessment Assess(params EarlierRepair[] earlier) => Diagnostician.Assess(Lines.Workup(Lines.I4, []) with { EarlierRepairs = [.. earlier] }, Knowledge.Shipped);

    private static Knowledge World(double fresh, double times)
    {
        var world = SmallWorld.Knowledge([], [SmallWorld.Cause("old", CauseScope.Cylinder, .5, alone: true), SmallWorld.Cause("other", CauseScope.Cylinder, .5, alone: true)]);
        var rule = new AfterRepairRule([], "Look.", [new("other", times, "Because.")], "made up");
        return new(world.Tests, world.Causes, [], world.Limits.Values, [], new() { NewPart = new("", fresh, "New."), Mended = new("", fresh, "Mended."), Rules = [rule], Source = "made up" });
    }
}
