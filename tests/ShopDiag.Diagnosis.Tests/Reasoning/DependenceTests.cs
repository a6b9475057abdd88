using CsCheck;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Causes;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.Tests.Reasoning;

/// <summary>Readings that see the same thing are not counted twice, and each belief can be taken apart into its readings.</summary>
public sealed class DependenceTests
{
    private static readonly EvidenceRule[] Leak =
    [
        SmallWorld.Rule("gauge", Relation.Here, ("low", .8), ("good", .2)),
        SmallWorld.Rule("air", Relation.Here, ("low", .8), ("good", .2)),
    ];

    [Fact]
    public void Two_readings_of_one_kind_say_less_than_two_that_are_independent()
    {
        var (one, two) = (Odds("seal", "gauge"), Odds("seal", "gauge", "air"));
        var (alone, apart) = (Odds(null, "gauge"), Odds(null, "gauge", "air"));

        // Independent readings double the bits, which is the product of the two likelihood ratios of 8 (.8 against .1).
        Assert.Equal(2 * alone, apart, 1e-6);
        Assert.Equal(alone, one, 1e-9);
        // What the look adds by itself, half of what a sound engine shows bad, does not go together; the rest does.
        Assert.InRange(two, one, 1.4 * one);
    }

    [Fact]
    public void Two_good_readings_of_one_kind_clear_a_cause_less_than_two_that_are_independent()
    {
        var (one, two) = (Odds("seal", "!gauge"), Odds("seal", "!gauge", "!air"));

        Assert.True(one < 0);
        // Half of what reads good was overlooked by the look alone; the rest hides from both.
        Assert.InRange(two, 1.65 * one, one);
    }

    /// <summary>One look may go wrong by itself: a second look at the same says more, but what is odd on the car itself stays odd.</summary>
    [Theory]
    [InlineData("gauge")]
    [InlineData("!gauge")]
    public void The_same_seen_twice_says_more_than_once_and_less_than_two_independent_readings(string seen)
    {
        var (one, two) = (Odds(null, seen), Odds(null, seen, seen));

        Assert.InRange(two / one, 1.15, 1.75);
    }

    /// <summary>However often a look goes wrong by itself: one reading says between two causes what their rules say, no more and no less.</summary>
    [Fact]
    public void One_reading_says_exactly_what_the_rules_say() =>
        Gen.Select(Gen.Double[.01, 1].Array[3], Gen.Double[.01, 1].Array[3], Gen.Double[.01, 1].Array[3], Gen.Int[0, 2]).Sample((a, b, c, seen) =>
        {
            string[] names = ["dead", "low", "good"];
            (string, double)[] Shares(double[] weights) => [.. weights.Zip(names, (w, n) => (n, w / weights.Sum()))];
            var knowledge = SmallWorld.Knowledge(
                [SmallWorld.Test("gauge", TestScope.Cylinder, 0, 5, Shares(c))],
                [
                    SmallWorld.Cause("leak", CauseScope.Cylinder, .5, alone: true, SmallWorld.Rule("gauge", Relation.Here, Shares(a))),
                    SmallWorld.Cause("other", CauseScope.Cylinder, .5, alone: true, SmallWorld.Rule("gauge", Relation.Here, Shares(b))),
                ]);
            var answer = Diagnostician.Assess(SmallWorld.Workup(SmallWorld.Twin, SmallWorld.Seen("gauge", Place.Cylinder(1), names[seen])), knowledge);
            double Of(string cause) => answer.Causes.Single(r => r.Cause == cause && r.At == Place.Cylinder(1)).Probability;
            return Math.Abs(Math.Log2(Of("leak") / Of("other")) - Math.Log2(Shares(a)[seen].Item2 / Shares(b)[seen].Item2)) < 1e-9;
        });

    [Fact]
    public void Real_compression_and_leak_down_speak_of_one_leak()
    {
        Assessment With(params Reading[] readings) => Diagnostician.Assess(
            Workups.Lines.Workup(Workups.Lines.I4, []) with { Readings = [.. readings] }, Knowledge.Shipped);
        double Bits(Assessment answer) => answer.Causes.Single(c => c.Cause == "exhaust-valve-leak" && c.At == Place.Cylinder(3)).Evidence.Sum(e => e.Bits);
        Reading[] dry = [.. Enumerable.Range(1, 4).Select(c => Number("compression-dry", c, ("kPa", FieldValue.Of(c == 3 ? 550 : 1250))))];
        var air = Number("leak-down", 3, ("percent", FieldValue.Of(45)), ("hear", FieldValue.Of("exhaust")));

        var (compression, leak, both) = (Bits(With(dry)), Bits(With(air)), Bits(With([.. dry, air])));

        Assert.True(both < 0.85 * (compression + leak), $"{compression} and {leak} make {both}");
        Assert.True(both > Math.Max(compression, leak));
    }

    [Fact]
    public void Prior_effects_pairs_and_the_common_term_add_up_to_the_posterior_shown() =>
        Gen.Select(Gen.Int[1, 4], Gen.OneOf("steady", "weak", "none"), Gen.OneOf("ticking", "silent"), Gen.Double[200, 1400], Gen.Double[1, 60]).Sample(
            (cylinder, jumps, sound, kPa, percent) =>
            {
                Reading[] readings =
                [
                    Number("spark-output", cylinder, ("gapMm", FieldValue.Of(20)), ("jumps", FieldValue.Of(jumps))),
                    Number("injector-sound", cylinder, ("sound", FieldValue.Of(sound))),
                    Number("leak-down", cylinder, ("percent", FieldValue.Of(percent)), ("hear", FieldValue.Of("exhaust"))),
                    .. Enumerable.Range(1, 4).Select(c => Number("compression-dry", c, ("kPa", FieldValue.Of(c == cylinder ? kPa : 1250)))),
                ];
                var answer = Diagnostician.Assess(Workups.Lines.Workup(Workups.Lines.I4, []) with { Readings = [.. readings] }, Knowledge.Shipped);
                return answer.Causes.All(c =>
                    Math.Abs(c.PriorBits + c.Evidence.Sum(e => e.Bits) + c.PairBits + answer.CommonBits - Math.Log2(c.Probability)) < 1e-6);
            },
            iter: 60);

    [Fact]
    public void A_retake_that_disagrees_counts_against_the_first_and_a_third_decides()
    {
        double Coil(params string[] trials) => Diagnostician.Assess(
            Workups.Lines.Workup(Workups.Lines.I4, []) with { Readings = [.. trials.Select(t => Number("spark-output", 2, ("gapMm", FieldValue.Of(20)), ("jumps", FieldValue.Of(t))))] },
            Knowledge.Shipped).Causes.Single(c => c.Cause == "coil-failed" && c.At == Place.Cylinder(2)).Probability;

        var (nothing, none, split, strong, most) = (Coil(), Coil("none"), Coil("none", "steady"), Coil("steady"), Coil("none", "steady", "none"));

        Assert.InRange(split, strong, none);
        Assert.True(none > nothing && nothing > strong);
        Assert.True(most > split);
        Assert.Equal(Coil("none", "none"), Coil("none", "none"), 1e-12);
        Assert.True(Coil("none", "none") > none);
        Assert.Equal(split, Coil("steady", "none"), 1e-12);
    }

    // Log odds, in bits, that the readings move the leak against the other cause, of which no rule speaks.
    private static double Odds(string? group, params string[] seen)
    {
        var knowledge = SmallWorld.Knowledge(
            [
                SmallWorld.Grouped("gauge", group, TestScope.Cylinder, 0, 5, ("low", .1), ("good", .9)),
                SmallWorld.Grouped("air", group, TestScope.Cylinder, 0, 5, ("low", .1), ("good", .9)),
            ],
            [SmallWorld.Cause("leak", CauseScope.Cylinder, .5, alone: true, Leak), SmallWorld.Cause("other", CauseScope.Cylinder, .5, alone: true)]);
        var readings = seen.Select(s => SmallWorld.Seen(s.TrimStart('!'), Place.Cylinder(1), s[0] == '!' ? "good" : "low"));
        var answer = Diagnostician.Assess(SmallWorld.Workup(SmallWorld.Twin, [.. readings]), knowledge);
        double Of(string cause) => answer.Causes.Single(c => c.Cause == cause && c.At == Place.Cylinder(1)).Probability;
        return Math.Log2(Of("leak") / Of("other"));
    }

    private static Reading Number(string test, int cylinder, params (string Field, FieldValue Value)[] fields) => new()
    {
        Test = test, At = Place.Cylinder(cylinder), Value = new ReadingValue(fields.Select(f => new KeyValuePair<string, FieldValue>(f.Field, f.Value))),
    };
}
