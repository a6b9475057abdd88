using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Causes;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.Tests.Reasoning;

public sealed class BeliefTests
{
    private const double PairFactor = 0.12;

    [Fact]
    public void Worked_example_D30d_gives_the_posterior_that_Bayes_rule_gives()
    {
        // facts D30d (constructed, answer by brute force): prior ignition .5, fuel .2, air .1, mechanical .2;
        // "low relative compression" seen with probability .05, .05, .05, .9.
        var test = SmallWorld.Test("relative", TestScope.Engine, slip: 0, 5, ("low", 0.05), ("good", 0.95));
        var causes = new (string Id, double Prior, double Low)[] { ("ignition", .5, .05), ("fuel", .2, .05), ("air", .1, .05), ("mechanical", .2, .9) };
        var knowledge = SmallWorld.Knowledge([test], causes.Select(c =>
            SmallWorld.Cause(c.Id, CauseScope.Engine, c.Prior, alone: true, SmallWorld.Rule("relative", Relation.Here, ("low", c.Low), ("good", 1 - c.Low)))));

        var answer = Diagnostician.Assess(SmallWorld.Workup(SmallWorld.Twin, SmallWorld.Seen("relative", Place.Engine, "low")), knowledge);

        var posterior = answer.Causes.ToDictionary(c => c.Cause, c => c.Probability);
        Assert.Equal(.1136, posterior["ignition"], 4);
        Assert.Equal(.0455, posterior["fuel"], 4);
        Assert.Equal(.0227, posterior["air"], 4);
        Assert.Equal(.8182, posterior["mechanical"], 4);
        Assert.Equal("mechanical", answer.Causes[0].Cause);
    }

    [Fact]
    public void The_posterior_of_single_and_paired_faults_equals_the_one_counted_out_by_hand()
    {
        // Two causes at each of two cylinders and one at the engine; two tests; everything written out below without the engine's code.
        var spark = SmallWorld.Test("spark", TestScope.Cylinder, slip: 0.02, 5, ("none", 0.1), ("strong", 0.9));
        var pull = SmallWorld.Test("pull", TestScope.Cylinder, slip: 0.04, 5, ("dead", 0.2), ("fine", 0.8));
        var knowledge = SmallWorld.Knowledge(
            [spark, pull],
            [
                SmallWorld.Cause("coil", CauseScope.Cylinder, 0.6, alone: false, SmallWorld.Rule("spark", Relation.Here, ("none", .8), ("strong", .2)), SmallWorld.Rule("pull", Relation.Here, ("dead", .9), ("fine", .1))),
                SmallWorld.Cause("valve", CauseScope.Cylinder, 0.3, alone: false, SmallWorld.Rule("pull", Relation.Here, ("dead", .7), ("fine", .3))),
                SmallWorld.Cause("fuel", CauseScope.Engine, 0.1, alone: false, SmallWorld.Rule("pull", Relation.Here, ("dead", .5), ("fine", .5))),
            ]);
        var workup = SmallWorld.Workup(
            SmallWorld.Twin,
            SmallWorld.Seen("spark", Place.Cylinder(1), "none"),
            SmallWorld.Seen("pull", Place.Cylinder(1), "dead"),
            SmallWorld.Seen("pull", Place.Cylinder(2), "fine"));

        var answer = Diagnostician.Assess(workup, knowledge);

        var expected = CountedOut();
        foreach (var cause in answer.Causes)
        {
            Assert.Equal(expected[(cause.Cause, cause.At)], cause.Probability, 12);
        }
    }

    [Fact]
    public void For_single_faults_prior_and_effects_add_up_to_the_odds_between_causes()
    {
        var spark = SmallWorld.Test("spark", TestScope.Cylinder, slip: 0.02, 5, ("none", 0.1), ("strong", 0.9));
        var knowledge = SmallWorld.Knowledge(
            [spark],
            [
                SmallWorld.Cause("coil", CauseScope.Cylinder, 0.6, alone: true, SmallWorld.Rule("spark", Relation.Here, ("none", .8), ("strong", .2))),
                SmallWorld.Cause("valve", CauseScope.Cylinder, 0.4, alone: true, SmallWorld.Rule("spark", Relation.Neighbour, ("none", .3), ("strong", .7))),
            ]);

        var answer = Diagnostician.Assess(SmallWorld.Workup(SmallWorld.Twin, SmallWorld.Seen("spark", Place.Cylinder(1), "none")), knowledge);

        var bits = answer.Causes.Select(c => (c.Probability, Bits: c.PriorBits + c.Evidence.Sum(e => e.Bits))).ToArray();
        foreach (var (probability, sum) in bits)
        {
            Assert.Equal(Math.Log2(probability / bits[0].Probability), sum - bits[0].Bits, 9);
        }
    }

    private static Dictionary<(string, Place), double> CountedOut()
    {
        // What a reading truly is, and what is read of it: a look may go wrong by itself, and a slip gives any of the two outcomes. Half of the fewest good readings of any cause
        // (.2 of the spark, .1 of the pull) are overlooked, half of what a sound engine shows bad (.1 and .2) is imagined.
        var sparkLook = new LookByHand(.1, .05);
        var pullLook = new LookByHand(.05, .1);
        double[] Spark(double first) => sparkLook.Truly([first, 1 - first]);
        double[] Pull(double first) => pullLook.Truly([first, 1 - first]);
        static double Read(LookByHand look, double[] truly, int outcome, double slip) => ((1 - slip) * look.Shows(truly, outcome)) + (slip / 2);

        var healthySpark = Spark(.1);
        var healthyPull = Pull(.2);
        var faults = new List<(string Cause, Place At, double Prior, double[]? Spark1, double[]? Pull1, double[]? Pull2)>();
        foreach (var k in new[] { 1, 2 })
        {
            double[]? At(int cylinder, double first) => k == cylinder ? Pull(first) : null;
            faults.Add(("coil", Place.Cylinder(k), .3, k == 1 ? Spark(.8) : null, At(1, .9), At(2, .9)));
            faults.Add(("valve", Place.Cylinder(k), .15, null, At(1, .7), At(2, .7)));
        }

        faults.Add(("fuel", Place.Engine, .1, null, Pull(.5), Pull(.5)));

        static double Seen(LookByHand look, double[]? one, double[]? other, double[] healthy, int outcome, double slip)
        {
            if (one is null || other is null)
            {
                return Read(look, one ?? other ?? healthy, outcome, slip);
            }

            var pooled = healthy.Select((h, o) => one[o] * other[o] / h).ToArray();
            return Read(look, [.. pooled.Select(p => p / pooled.Sum())], outcome, slip);
        }

        var weights = new List<(int A, int? B, double Weight)>();
        for (var a = 0; a < faults.Count; a++)
        {
            for (var b = a; b < faults.Count; b++)
            {
                var (one, other) = (faults[a], a == b ? default : faults[b]);
                var prior = a == b ? one.Prior : PairFactor * one.Prior * other.Prior;
                weights.Add((a, a == b ? null : b, prior
                    * Seen(sparkLook, one.Spark1, other.Spark1, healthySpark, 0, .02)
                    * Seen(pullLook, one.Pull1, other.Pull1, healthyPull, 0, .04)
                    * Seen(pullLook, one.Pull2, other.Pull2, healthyPull, 1, .04)));
            }
        }

        var total = weights.Sum(w => w.Weight);
        return faults.Select((f, i) => (f, i)).ToDictionary(
            p => (p.f.Cause, p.f.At), p => weights.Where(w => w.A == p.i || w.B == p.i).Sum(w => w.Weight) / total);
    }
}
