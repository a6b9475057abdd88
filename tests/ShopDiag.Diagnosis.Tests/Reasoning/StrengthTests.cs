using CsCheck;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Causes;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.Tests.Reasoning;

/// <summary>A trouble that several cylinders share is strong or slight on all of them, for one kind of reading at a time.</summary>
public sealed class StrengthTests
{
    private const double PairFactor = 0.12;
    private const double Slight = 0.4;
    private const double Sleeps = 0.25;
    private static readonly double[] HealthyGauge = [.05, .95];
    private static readonly double[] HealthyPull = [.1, .9];

    // Half of the fewest good readings of any cause are overlooked (.1 of the valve by the gauge; by the pull .15, half of those of the coil, which sleeps through the others); half of what a sound engine
    // shows bad is imagined.
    private static readonly LookByHand GaugeLook = new(.05, .025);
    private static readonly LookByHand PullLook = new(.075, .05);

    // Low or good by the gauge, dead or fine by the pull; belt and intake are shared by all cylinders, valve and coil sit at one.
    private static readonly Fault[] Faults =
    [
        new("belt", null, .2, Slight, 0, [.6, .4], [.3, .7]),
        new("intake", null, .3, Slight, 0, [.2, .8], [.5, .5]),
        new("valve", 1, .15, 0, 0, [.9, .1], [.8, .2]),
        new("valve", 2, .15, 0, 0, [.9, .1], [.8, .2]),
        new("coil", 1, .1, 0, Sleeps, null, [.7, .3]),
        new("coil", 2, .1, 0, Sleeps, null, [.7, .3]),
    ];

    [Theory]
    [InlineData("low", "low", "fine", "fine")]
    [InlineData("low", "good", "dead", "fine")]
    [InlineData("good", "good", "dead", "dead")]
    public void The_posterior_of_shared_faults_and_their_pairs_equals_the_one_counted_out_by_hand(string gauge1, string gauge2, string pull1, string pull2)
    {
        var answer = Diagnostician.Assess(
            SmallWorld.Workup(
                SmallWorld.Twin,
                SmallWorld.Seen("gauge", Place.Cylinder(1), gauge1), SmallWorld.Seen("gauge", Place.Cylinder(2), gauge2),
                SmallWorld.Seen("pull", Place.Cylinder(1), pull1), SmallWorld.Seen("pull", Place.Cylinder(2), pull2)),
            World(Slight));

        var expected = CountedOut([gauge1 == "low" ? 0 : 1, gauge2 == "low" ? 0 : 1], [pull1 == "dead" ? 0 : 1, pull2 == "dead" ? 0 : 1]);
        Assert.All(answer.Causes, c => Assert.Equal(expected[(c.Cause, c.At)], c.Probability, 6));
    }

    [Fact]
    public void One_cylinder_alone_says_what_the_rule_says() =>
        Gen.Select(Gen.Double[.02, .98], Gen.Double[.05, .95], Gen.Double[.005, .3], Gen.OneOf("dead", "low", "good")).Sample((bad, slight, healthy, outcome) =>
        {
            var gauge = SmallWorld.Test("gauge", TestScope.Cylinder, 0, 1, ("dead", healthy * .3), ("low", healthy * .7), ("good", 1 - healthy));
            Cause[] causes =
            [
                SmallWorld.Cause("belt", CauseScope.Engine, .5, alone: true, SmallWorld.Rule("gauge", Relation.Here, ("dead", bad * .6), ("low", bad * .4), ("good", 1 - bad))) with { Slight = slight },
                SmallWorld.Cause("other", CauseScope.Engine, .5, alone: true),
            ];
            var onSound = outcome switch { "dead" => healthy * .3, "low" => healthy * .7, _ => 1 - healthy };
            var byRule = outcome switch { "dead" => bad * .6, "low" => bad * .4, _ => 1 - bad };

            var bits = Odds(SmallWorld.Twin, SmallWorld.Knowledge([gauge], causes), SmallWorld.Seen("gauge", Place.Cylinder(1), outcome));

            return Math.Abs(bits - Math.Log2(byRule / onSound)) < 1e-6;
        });

    [Fact]
    public void Many_cylinders_that_read_good_do_not_rule_out_what_may_be_slight_on_all_of_them()
    {
        var engine = Engine.Create(new EngineSpec { Layout = "I6", Banks = [[1, 2, 3, 4, 5, 6]], FiringOrder = [1, 5, 3, 6, 2, 4], Ignition = Ignition.CoilOnPlug, Injection = Injection.Port }).Value;
        Reading[] all = [.. engine.Cylinders.Select(c => SmallWorld.Seen("gauge", Place.Cylinder(c), "good"))];
        Reading[] mixed = [.. engine.Cylinders.Select(c => SmallWorld.Seen("gauge", Place.Cylinder(c), c <= 3 ? "low" : "good"))];

        // Slight all over: what is slight leaves each reading good with at least the rule's own chance; six times .4 against .95 would say 7.5 bits.
        Assert.InRange(Odds(engine, World(Slight), all), -3.5, -1);
        Assert.InRange(Odds(engine, World(0), all), -7.6, -7.4);
        Assert.True(Odds(engine, World(Slight), mixed) < Odds(engine, World(0), mixed), "half of the cylinders speak less for a trouble that all share than they would each for itself");
    }

    [Fact]
    public void What_each_reading_does_to_a_shared_fault_adds_up_to_its_probability() =>
        Gen.Select(Gen.OneOf("low", "good").Array[2], Gen.OneOf("dead", "fine").Array[2]).Sample((gauge, pull) =>
        {
            var answer = Diagnostician.Assess(
                SmallWorld.Workup(
                    SmallWorld.Twin,
                    SmallWorld.Seen("gauge", Place.Cylinder(1), gauge[0]), SmallWorld.Seen("gauge", Place.Cylinder(2), gauge[1]),
                    SmallWorld.Seen("pull", Place.Cylinder(1), pull[0]), SmallWorld.Seen("pull", Place.Cylinder(2), pull[1])),
                World(Slight));
            return answer.Causes.All(c => Math.Abs(c.PriorBits + c.Evidence.Sum(e => e.Bits) + c.PairBits + answer.CommonBits - Math.Log2(c.Probability)) < 1e-6);
        },
        iter: 16);

    [Theory]
    [InlineData("low", "low")]
    [InlineData("low", "good")]
    [InlineData("good", "good")]
    public void One_kind_of_reading_may_be_slight_by_itself(string one, string two)
    {
        var pull = SmallWorld.Test("pull", TestScope.Cylinder, 0, 5, ("dead", HealthyPull[0]), ("fine", HealthyPull[1]));
        Reading[] gauge = [SmallWorld.Seen("gauge", Place.Cylinder(1), one), SmallWorld.Seen("gauge", Place.Cylinder(2), two)];
        Reading[] pulls = [SmallWorld.Seen("pull", Place.Cylinder(1), "dead"), SmallWorld.Seen("pull", Place.Cylinder(2), "dead")];

        // The gauge as where the whole cause is slight, the pull as where nothing is.
        Assert.Equal(Odds(SmallWorld.Twin, Belt(Slight, null), gauge), Odds(SmallWorld.Twin, Belt(0, Slight), gauge), 9);
        Assert.Equal(Odds(SmallWorld.Twin, Belt(0, null), pulls), Odds(SmallWorld.Twin, Belt(0, Slight), pulls), 9);
        Assert.Equal(Odds(SmallWorld.Twin, Belt(0, null), gauge), Odds(SmallWorld.Twin, Belt(Slight, 0), gauge), 9);
        Assert.Equal(
            Odds(SmallWorld.Twin, Belt(0, Slight), gauge) + Odds(SmallWorld.Twin, Belt(0, Slight), pulls), Odds(SmallWorld.Twin, Belt(0, Slight), [.. gauge, .. pulls]), 9);

        Knowledge Belt(double slight, double? byGauge) => SmallWorld.Knowledge(
            [Gauge, pull],
            [
                SmallWorld.Cause(
                    "belt", CauseScope.Engine, .5, alone: true,
                    SmallWorld.Rule("gauge", Relation.Here, ("low", .6), ("good", .4)) with { Slight = byGauge }, SmallWorld.Rule("pull", Relation.Here, ("dead", .3), ("fine", .7))) with { Slight = slight },
                SmallWorld.Cause("other", CauseScope.Engine, .5, alone: true),
            ]);
    }

    [Fact]
    public void Only_what_cylinders_share_can_be_slight_by_a_rule() => Assert.Throws<InvalidOperationException>(() =>
        SmallWorld.Knowledge([Gauge], [SmallWorld.Cause("valve", CauseScope.Cylinder, 1, alone: true, SmallWorld.Rule("gauge", Relation.Here, ("low", .9), ("good", .1)) with { Slight = Slight })]));

    [Fact]
    public void Only_what_cylinders_share_can_be_slight() => Assert.Throws<InvalidOperationException>(() =>
        SmallWorld.Knowledge([Gauge], [SmallWorld.Cause("valve", CauseScope.Cylinder, 1, alone: true) with { Slight = Slight }]));

    private static BenchTest Gauge => SmallWorld.Test("gauge", TestScope.Cylinder, 0, 5, ("low", HealthyGauge[0]), ("good", HealthyGauge[1]));

    private static Knowledge World(double slight)
    {
        var pull = SmallWorld.Test("pull", TestScope.Cylinder, 0, 5, ("dead", HealthyPull[0]), ("fine", HealthyPull[1]));
        return SmallWorld.Knowledge(
            [Gauge, pull with { Aspects = [.. pull.Aspects.Select(a => a with { Live = true })] }],
            Faults.DistinctBy(f => f.Cause).Select(f => SmallWorld.Cause(f.Cause, f.Cylinder is null ? CauseScope.Engine : CauseScope.Cylinder, Faults.Where(o => o.Cause == f.Cause).Sum(o => o.Prior), alone: false, [.. Rules(f)])
                with { Slight = f.Slight > 0 ? slight : 0, Sleeps = f.Sleeps }));
    }

    private static IEnumerable<EvidenceRule> Rules(Fault fault)
    {
        if (fault.Gauge is { } gauge)
        {
            yield return SmallWorld.Rule("gauge", Relation.Here, ("low", gauge[0]), ("good", gauge[1]));
        }

        yield return SmallWorld.Rule("pull", Relation.Here, ("dead", fault.Pull[0]), ("fine", fault.Pull[1]));
    }

    // What the readings say for the belt, against a sound engine.
    private static double Odds(Engine engine, Knowledge knowledge, params Reading[] readings) =>
        Diagnostician.Assess(SmallWorld.Workup(engine, readings), knowledge).Causes.Single(c => c.Cause == "belt").Evidence.Sum(e => e.Bits);

    // Every fault and every pair in all their states, written out without the program's code: each reading's group has a strength of its own, sleep goes for the live pull alone.
    private static Dictionary<(string, Place), double> CountedOut(int[] gauge, int[] pull)
    {
        var weights = new List<(int A, int? B, double Weight)>();
        for (var a = 0; a < Faults.Length; a++)
        {
            weights.Add((a, null, Faults[a].Prior * Likelihood(Faults[a], null, gauge, pull)));
            for (var b = a + 1; b < Faults.Length; b++)
            {
                weights.Add((a, b, PairFactor * Faults[a].Prior * Faults[b].Prior * Likelihood(Faults[a], Faults[b], gauge, pull)));
            }
        }

        var total = weights.Sum(w => w.Weight);
        return Faults.Select((f, i) => (f, i)).ToDictionary(
            p => (p.f.Cause, p.f.Cylinder is { } c ? Place.Cylinder(c) : Place.Engine), p => weights.Where(w => w.A == p.i || w.B == p.i).Sum(w => w.Weight) / total);
    }

    private static double Likelihood(Fault one, Fault? other, int[] gauge, int[] pull) =>
        Group(one, other, f => f.Gauge, GaugeLook, GaugeLook.Truly(HealthyGauge), gauge) * Group(one, other, f => f.Pull, PullLook, PullLook.Truly(HealthyPull), pull);

    private static double Group(Fault one, Fault? other, Func<Fault, double[]?> rule, LookByHand look, double[] healthy, int[] seen) =>
        States(one, Truly(rule(one), look), look, healthy).Sum(a => States(other, other is null ? null : Truly(rule(other), look), look, healthy).Sum(b =>
            a.Share * b.Share * Enumerable.Range(0, seen.Length).Aggregate(1.0, (p, i) => p * look.Shows(Of(At(one, a.Shown, i + 1), At(other, b.Shown, i + 1), healthy), seen[i]))));

    private static double[]? Truly(double[]? rule, LookByHand look) => rule is null ? null : look.Truly(rule);

    private static IEnumerable<(double Share, double[]? Shown)> States(Fault? fault, double[]? rule, LookByHand look, double[] healthy)
    {
        if (fault is null || rule is null || (fault.Slight == 0 && (fault.Sleeps == 0 || look != PullLook)))
        {
            return [(1, rule)];
        }

        if (fault.Sleeps > 0)
        {
            return [(Sleeps, null), (1 - Sleeps, [.. rule.Select((p, o) => (p - (Sleeps * healthy[o])) / (1 - Sleeps))])];
        }

        // Two logits that lie four apart and have the rule as their mean, by walking up to them.
        var x = -12.0;
        while ((Slight * Logistic(x - 2)) + ((1 - Slight) * Logistic(x + 2)) < rule[0])
        {
            x += 1e-6;
        }

        var less = Math.Max(healthy[0], Logistic(x - 2));
        var more = (rule[0] - (Slight * less)) / (1 - Slight);
        return [(Slight, [less, 1 - less]), (1 - Slight, [more, 1 - more])];
    }

    private static double Logistic(double x) => 1 / (1 + Math.Exp(-x));

    private static double[]? At(Fault? fault, double[]? shown, int cylinder) => fault is null || (fault.Cylinder is { } own && own != cylinder) ? null : shown;

    private static double[] Of(double[]? one, double[]? other, double[] healthy)
    {
        if (one is null || other is null)
        {
            return one ?? other ?? healthy;
        }

        double[] pooled = [.. healthy.Select((h, o) => one[o] * other[o] / h)];
        return [.. pooled.Select(p => p / pooled.Sum())];
    }

    private sealed record Fault(string Cause, int? Cylinder, double Prior, double Slight, double Sleeps, double[]? Gauge, double[] Pull);
}
