using CsCheck;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Causes;
using ShopDiag.Diagnosis.Tests.Workups;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.Tests.Reasoning;

/// <summary>That the trouble is gone after a repair speaks against what the repair does not mend.</summary>
public sealed class RepairEvidenceTests
{
    private const double StaysAway = 0.05;
    private static readonly Place One = Place.Cylinder(1);
    private static readonly double[] Healthy = [.2, .8];
    private static readonly double[] Coil = [.9, .1];
    private static readonly double[] Plug = [.8, .2];

    // Half of the coil's good readings (the fewest of any) are overlooked, half of what a sound engine shows bad is imagined.
    private static readonly LookByHand Look = new(.05, .1);

    [Fact]
    public void The_posterior_after_a_tried_repair_equals_the_one_counted_by_hand()
    {
        var plug = Look.Truly(Plug);
        var again = plug.Select((p, truly) => p * Look.Shows([1 - truly, truly], 0) * Look.Shows([1 - truly, truly], 1)).Sum() / Plug[0];
        var stays = StaysAway + ((1 - StaysAway) * again / Healthy[1]);
        // Priors a half, .3 and .2, shared by two cylinders; what sits at the other cylinder says nothing here.
        Dictionary<(string, Place), double> weights = new()
        {
            [("coil", One)] = .25 * Coil[0], [("plug", One)] = .15 * Plug[0] * stays, [("odd", One)] = .1 * Healthy[0],
            [("coil", Place.Cylinder(2))] = .25 * Healthy[0], [("plug", Place.Cylinder(2))] = .15 * Healthy[0], [("odd", Place.Cylinder(2))] = .1 * Healthy[0],
        };

        var answer = Assess(Tried("coil", Read("bad"), Read("fine", Stage.After)));

        Assert.All(answer.Causes, c => Assert.Equal(weights[(c.Cause, c.At)] / weights.Values.Sum(), c.Probability, 12));
    }

    [Fact]
    public void It_stands_among_the_reasons_as_read_after_the_repair_and_not_at_what_the_repair_mends()
    {
        var answer = Assess(Tried("coil", Read("bad"), Read("fine", Stage.After)));

        Assert.DoesNotContain(answer.Cause("coil", One).Evidence, e => e.Stage == Stage.After);
        var effect = Assert.Single(answer.Cause("plug", One).Evidence, e => e.Stage == Stage.After);
        Assert.True(effect is { Test: "pull", Outcome: "fine", Bits: < -1 }, $"{effect}");
    }

    [Fact]
    public void Without_a_known_repair_good_readings_after_it_say_nothing()
    {
        var before = Assess(SmallWorld.Workup(SmallWorld.Twin, Read("bad")));
        var after = Assess(SmallWorld.Workup(SmallWorld.Twin, Read("bad"), Read("fine", Stage.After)));

        Assert.Equal(before.Causes.Select(c => c.Probability), after.Causes.Select(c => c.Probability));
    }

    [Fact]
    public void It_never_says_more_than_that_trouble_seldom_stays_away_by_itself()
    {
        double Odds(params Reading[] readings)
        {
            var answer = Assess(Tried("coil", readings));
            return answer.Cause("coil", One).Probability / answer.Cause("plug", One).Probability;
        }

        var gain = Odds([Read("bad"), .. Enumerable.Repeat(Read("fine", Stage.After), 30)]) / Odds(Read("bad"));

        Assert.InRange(gain, 10, 1 / StaysAway);
    }

    [Fact]
    public void What_was_read_after_the_repair_adds_up_with_the_rest() =>
        Gen.Select(Gen.OneOf("steady", "weak", "none"), Gen.Int[20, 400], Gen.Int[0, 3], Gen.OneOf("coil-failed", "plug-worn", "fuel-pressure-low")).Sample((jumps, misfires, later, tried) =>
        {
            Reading[] readings =
            [
                Number("spark-output", 2, Stage.Before, ("gapMm", FieldValue.Of(20)), ("jumps", FieldValue.Of(jumps))),
                .. Enumerable.Range(1, 4).Select(c => Number("misfire-counts", c, Stage.Before, ("misfires", FieldValue.Of(c == 2 ? misfires : 0)), ("revolutions", FieldValue.Of(1000)))),
                .. Enumerable.Range(1, 4).Select(c => Number("misfire-counts", c, Stage.After, ("misfires", FieldValue.Of(c == 2 ? later : 0)), ("revolutions", FieldValue.Of(1000)))),
            ];
            var workup = Lines.Workup(Lines.I4, []) with { Readings = [.. readings], TriedRepairs = [new ProvenCause(tried, tried == "fuel-pressure-low" ? Place.Engine : Place.Cylinder(2))] };
            var answer = Diagnostician.Assess(workup, Knowledge.Shipped);
            return answer.Causes.Any(c => c.Evidence.Any(e => e.Stage == Stage.After))
                && answer.Causes.All(c => Math.Abs(c.PriorBits + c.Evidence.Sum(e => e.Bits) + c.PairBits + answer.CommonBits - Math.Log2(c.Probability)) < 1e-6);
        },
        iter: 40);

    [Fact]
    public void A_coil_that_was_tried_and_ended_the_misfire_is_believed_more_and_the_plug_less()
    {
        Reading[] before =
        [
            Number("spark-output", 2, Stage.Before, ("gapMm", FieldValue.Of(20)), ("jumps", FieldValue.Of("weak"))),
            .. Enumerable.Range(1, 4).Select(c => Counted(c, c == 2 ? 300 : 0, Stage.Before)),
        ];
        var workup = Lines.Workup(Lines.I4, []) with { Readings = [.. before], TriedRepairs = [new ProvenCause("coil-failed", Place.Cylinder(2))] };
        var then = Diagnostician.Assess(workup, Knowledge.Shipped);
        var now = Diagnostician.Assess(workup with { Readings = [.. before, .. Enumerable.Range(1, 4).Select(c => Counted(c, 0, Stage.After))] }, Knowledge.Shipped);

        double Of(Assessment answer, string cause) => answer.Cause(cause, Place.Cylinder(2)).Probability;
        Assert.Equal(Place.Cylinder(2), Assert.Single(now.Cause("coil-feed-lost", Place.Cylinder(2)).Evidence, e => e.Stage == Stage.After).At);
        Assert.True(Of(now, "coil-failed") > Of(then, "coil-failed"), $"{Of(then, "coil-failed")} became {Of(now, "coil-failed")}");
        Assert.True(Of(now, "coil-feed-lost") < Of(then, "coil-feed-lost") / 3, $"{Of(then, "coil-feed-lost")} became {Of(now, "coil-feed-lost")}");
    }

    private static Knowledge World { get; } = SmallWorld.Knowledge(
        [SmallWorld.Test("pull", TestScope.Cylinder, 0, 5, ("bad", Healthy[0]), ("fine", Healthy[1]))],
        [
            SmallWorld.Cause("coil", CauseScope.Cylinder, .5, alone: true, SmallWorld.Rule("pull", Relation.Here, ("bad", Coil[0]), ("fine", Coil[1]))),
            SmallWorld.Cause("plug", CauseScope.Cylinder, .3, alone: true, SmallWorld.Rule("pull", Relation.Here, ("bad", Plug[0]), ("fine", Plug[1]))),
            SmallWorld.Cause("odd", CauseScope.Cylinder, .2, alone: true),
        ]);

    private static Assessment Assess(Workup workup) => Diagnostician.Assess(workup, World);

    private static Workup Tried(string cause, params Reading[] readings) => SmallWorld.Workup(SmallWorld.Twin, readings) with { TriedRepairs = [new ProvenCause(cause, One)] };

    private static Reading Read(string seen, Stage stage = Stage.Before) => SmallWorld.Seen("pull", One, seen) with { Stage = stage };

    private static Reading Counted(int cylinder, int misfires, Stage stage) => Number("misfire-counts", cylinder, stage, ("misfires", FieldValue.Of(misfires)), ("revolutions", FieldValue.Of(1000)));

    private static Reading Number(string test, int cylinder, Stage stage, params (string Name, FieldValue Value)[] fields) => new()
    {
        Test = test, At = Place.Cylinder(cylinder), Stage = stage, Value = new ReadingValue(fields.Select(f => KeyValuePair.Create(f.Name, f.Value))),
    };
}
