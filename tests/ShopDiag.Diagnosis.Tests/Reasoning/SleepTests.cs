using System.Collections.Immutable;
using CsCheck;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Causes;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.Tests.Reasoning;

/// <summary>A fault that comes and goes is awake or asleep for all live readings together.</summary>
public sealed class SleepTests
{
    private const double PairFactor = 0.12;
    private const double Sleeps = 0.2;
    private static readonly double[] HealthySpark = [.1, .9];
    private static readonly double[] HealthyPull = [.2, .8];
    private static readonly double[] HealthyCode = [.05, .95];

    // Half of the good readings that are left awake (or half of all of them, if that is more) of the cause that has the fewest are overlooked: .125 of the coil's spark, .1 of the lead's and the valve's
    // pull, .3 of the valve's code; half of what a sound engine shows bad is imagined.
    private static readonly LookByHand SparkLook = new(.0625, .05);
    private static readonly LookByHand PullLook = new(.05, .1);
    private static readonly LookByHand CodeLook = new(.15, .025);

    // What each cause shows at its own cylinder; null where it says nothing.
    private static readonly (string Cause, double Prior, double Sleeps, double[]? Spark, double[]? Pull, double[]? Code)[] Causes =
    [
        ("coil", .5, Sleeps, [.75, .25], [.7, .3], [.6, .4]),
        ("lead", .3, Sleeps, [.5, .5], [.8, .2], null),
        ("valve", .2, 0, null, [.9, .1], [.7, .3]),
    ];

    [Fact]
    public void The_posterior_of_sleeping_faults_and_their_pairs_equals_the_one_counted_out_by_hand()
    {
        // A live test that is seen good, another that is seen good, and a stored code, all at one cylinder; the other cylinder is not looked at.
        var answer = Diagnostician.Assess(
            SmallWorld.Workup(SmallWorld.Twin, SmallWorld.Seen("spark", Place.Cylinder(1), "strong"), SmallWorld.Seen("pull", Place.Cylinder(1), "fine"), SmallWorld.Seen("code", Place.Cylinder(1), "coded")),
            World());

        var expected = CountedOut();
        foreach (var cause in answer.Causes)
        {
            Assert.Equal(expected[(cause.Cause, cause.At)], cause.Probability, 12);
        }
    }

    [Fact]
    public void One_reading_alone_says_what_its_rule_says_whether_the_fault_can_sleep_or_not()
    {
        var reading = SmallWorld.Seen("spark", Place.Cylinder(1), "strong");

        Assert.Equal(Odds(World(0), reading), Odds(World(), reading), 1e-9);
    }

    [Fact]
    public void A_second_good_live_reading_says_less_against_a_fault_that_can_sleep_than_against_one_that_cannot()
    {
        Reading[] both = [SmallWorld.Seen("spark", Place.Cylinder(1), "strong"), SmallWorld.Seen("pull", Place.Cylinder(1), "fine")];

        var (wakes, sleeps, first) = (Odds(World(0), both), Odds(World(), both), Odds(World(), both[0]));

        Assert.True(wakes < sleeps, $"{wakes} and {sleeps}");
        Assert.True(sleeps < first, "but it still speaks against it");
    }

    [Fact]
    public void However_many_live_readings_come_out_good_a_sleeping_fault_keeps_what_sleep_leaves_it()
    {
        // Ten tests of ten groups, each of which an awake fault would fail nine times in ten: independent they would say 33 bits.
        BenchTest[] tests = [.. Enumerable.Range(0, 10).Select(i => Live(SmallWorld.Test($"t{i}", TestScope.Cylinder, 0, 5, ("bad", .01), ("good", .99))))];
        EvidenceRule[] rules = [.. tests.Select(t => SmallWorld.Rule(t.Id, Relation.Here, ("bad", .7), ("good", .3)))];
        var knowledge = SmallWorld.Knowledge(tests, [SmallWorld.Cause("coil", CauseScope.Cylinder, .5, alone: true, rules) with { Sleeps = Sleeps }, SmallWorld.Cause("other", CauseScope.Cylinder, .5, alone: true)]);

        var odds = Odds(knowledge, [.. tests.Select(t => SmallWorld.Seen(t.Id, Place.Cylinder(1), "good"))], "coil", "other");

        Assert.InRange(odds, Math.Log2(Sleeps) - .1, Math.Log2(Sleeps) + .1);
    }

    [Fact]
    public void What_each_reading_does_to_a_sleeping_fault_adds_up_to_its_probability() =>
        Gen.Select(Gen.OneOf("steady", "weak", "none"), Gen.Int[1, 60], Gen.Int[0, 400], Gen.OneOf("good", "bad")).Sample((jumps, drop, misfires, feed) =>
        {
            Reading[] readings =
            [
                Number("spark-output", 2, ("gapMm", FieldValue.Of(20)), ("jumps", FieldValue.Of(jumps))),
                Number("coil-feed", 2, ("volts", FieldValue.Of(feed == "good" ? 12.4 : 6))),
                .. Enumerable.Range(1, 4).Select(c => Number("power-balance", c, ("baseRpm", FieldValue.Of(900)), ("cancelledRpm", FieldValue.Of(900 - (c == 2 ? drop : 90))))),
                .. Enumerable.Range(1, 4).Select(c => Number("misfire-counts", c, ("misfires", FieldValue.Of(c == 2 ? misfires : 0)), ("revolutions", FieldValue.Of(1000)))),
            ];
            var answer = Diagnostician.Assess(Workups.Lines.Workup(Workups.Lines.I4, []) with { Readings = [.. readings] }, Knowledge.Shipped);
            return answer.Causes.All(c => Math.Abs(c.PriorBits + c.Evidence.Sum(e => e.Bits) + c.PairBits + answer.CommonBits - Math.Log2(c.Probability)) < 1e-6);
        },
        iter: 40);

    [Fact]
    public void Knowledge_with_a_fault_that_hardly_ever_wakes_is_refused() => Assert.Throws<InvalidOperationException>(() => World(.7));

    private static Knowledge World(double sleeps = Sleeps) => SmallWorld.Knowledge(
        [
            Live(SmallWorld.Test("spark", TestScope.Cylinder, 0, 5, ("none", HealthySpark[0]), ("strong", HealthySpark[1]))),
            Live(SmallWorld.Test("pull", TestScope.Cylinder, 0, 5, ("dead", HealthyPull[0]), ("fine", HealthyPull[1]))),
            SmallWorld.Test("code", TestScope.Cylinder, 0, 5, ("coded", HealthyCode[0]), ("none", HealthyCode[1])),
        ],
        Causes.Select(c => SmallWorld.Cause(c.Cause, CauseScope.Cylinder, c.Prior, alone: false, [.. Rules(c.Spark, c.Pull, c.Code)]) with { Sleeps = c.Sleeps > 0 ? sleeps : 0 }));

    private static IEnumerable<EvidenceRule> Rules(double[]? spark, double[]? pull, double[]? code)
    {
        if (spark is not null)
        {
            yield return SmallWorld.Rule("spark", Relation.Here, ("none", spark[0]), ("strong", spark[1]));
        }

        if (pull is not null)
        {
            yield return SmallWorld.Rule("pull", Relation.Here, ("dead", pull[0]), ("fine", pull[1]));
        }

        if (code is not null)
        {
            yield return SmallWorld.Rule("code", Relation.Here, ("coded", code[0]), ("none", code[1]));
        }
    }

    private static BenchTest Live(BenchTest test) => test with { Aspects = [.. test.Aspects.Select(a => a with { Live = true })] };

    private static double Odds(Knowledge knowledge, params Reading[] readings) => Odds(knowledge, readings, "coil", "valve");

    // Against the same cause at the other cylinder, of which nothing was read.
    private static double Odds(Knowledge knowledge, Reading[] readings, string one, string other)
    {
        var answer = Diagnostician.Assess(SmallWorld.Workup(SmallWorld.Twin, [.. readings]), knowledge);
        return answer.Causes.Single(c => c.Cause == one && c.At == Place.Cylinder(1)).Evidence.Sum(e => e.Bits)
            - answer.Causes.Single(c => c.Cause == other && c.At == Place.Cylinder(2)).Evidence.Sum(e => e.Bits);
    }

    // Every fault at both cylinders, alone and in pairs, each awake or asleep, written out without the program's code.
    private static Dictionary<(string, Place), double> CountedOut()
    {
        var faults = Causes.SelectMany(c => new[] { 1, 2 }.Select(k => (c.Cause, At: k, Prior: c.Prior / 2, c.Sleeps, Fault: c))).ToArray();
        var weights = new List<(int A, int? B, double Weight)>();
        for (var a = 0; a < faults.Length; a++)
        {
            weights.Add((a, null, faults[a].Prior * Mean(faults[a].Sleeps, one => Seen(Shown(faults[a], one), null))));
            for (var b = a + 1; b < faults.Length; b++)
            {
                weights.Add((a, b, PairFactor * faults[a].Prior * faults[b].Prior
                    * Mean(faults[a].Sleeps, one => Mean(faults[b].Sleeps, other => Seen(Shown(faults[a], one), Shown(faults[b], other))))));
            }
        }

        var total = weights.Sum(w => w.Weight);
        return faults.Select((f, i) => (f, i)).ToDictionary(p => (p.f.Cause, Place.Cylinder(p.f.At)), p => weights.Where(w => w.A == p.i || w.B == p.i).Sum(w => w.Weight) / total);

        // At the other cylinder nothing shows.
        static double[]?[] Shown((string Cause, int At, double Prior, double Sleeps, (string Cause, double Prior, double Sleeps, double[]? Spark, double[]? Pull, double[]? Code) Fault) f, bool asleep) => f.At == 2
            ? [null, null, null]
            : [State(SparkLook, f.Fault.Spark, HealthySpark, f.Sleeps, asleep), State(PullLook, f.Fault.Pull, HealthyPull, f.Sleeps, asleep), State(CodeLook, f.Fault.Code, HealthyCode, 0, asleep)];
    }

    private static double Mean(double sleeps, Func<bool, double> weight) => sleeps > 0 ? (sleeps * weight(true)) + ((1 - sleeps) * weight(false)) : weight(false);

    // Asleep a live reading is as on a sound engine; awake it is what is left of the rule. All rules here leave room for the whole of the sleep.
    private static double[]? State(LookByHand look, double[]? rule, double[] healthy, double sleeps, bool asleep) =>
        rule is null ? null : sleeps == 0 ? look.Truly(rule) : asleep ? null : [.. look.Truly(rule).Zip(look.Truly(healthy), (p, h) => (p - (sleeps * h)) / (1 - sleeps))];

    // Strong, fine, coded.
    private static double Seen(double[]?[] one, double[]?[]? other) =>
        Of(SparkLook, one[0], other?[0], HealthySpark, 1) * Of(PullLook, one[1], other?[1], HealthyPull, 1) * Of(CodeLook, one[2], other?[2], HealthyCode, 0);

    private static double Of(LookByHand look, double[]? one, double[]? other, double[] shown, int outcome)
    {
        var healthy = look.Truly(shown);
        if (one is null || other is null)
        {
            return look.Shows(one ?? other ?? healthy, outcome);
        }

        double[] pooled = [.. healthy.Select((h, o) => one[o] * other[o] / h)];
        return look.Shows([.. pooled.Select(p => p / pooled.Sum())], outcome);
    }

    private static Reading Number(string test, int cylinder, params (string Field, FieldValue Value)[] fields) => new()
    {
        Test = test, At = Place.Cylinder(cylinder), Value = new ReadingValue(fields.Select(f => new KeyValuePair<string, FieldValue>(f.Field, f.Value)).ToImmutableArray()),
    };
}
