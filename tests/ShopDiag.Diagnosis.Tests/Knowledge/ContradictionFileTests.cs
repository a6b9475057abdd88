using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.Tests.KnowledgeFiles;

/// <summary>The rules of the house for <c>Evidence/contradictions.json</c>.</summary>
public sealed class ContradictionFileTests
{
    /// <summary>Two readings that one fault shows together more often than this do not contradict each other.</summary>
    private const double Tolerable = 0.2;

    public static TheoryData<string> Rules => [.. Knowledge.Shipped.Contradictions.Select(c => c.Id)];

    [Theory]
    [MemberData(nameof(Rules))]
    public void No_single_fault_explains_both_readings_well(string id)
    {
        var rule = Rule(id);
        foreach (var engine in Engines(rule))
        {
            foreach (var cause in Knowledge.Shipped.Causes.Where(c => c.Fits(engine)))
            {
                // What a reading needs to mean anything (a low dry compression before the wet one) has been seen too.
                var seen = rule.All.Concat(rule.All.SelectMany(c => Knowledge.Shipped.Aspect(c.Test)!.Value.Test.Needs));
                var together = seen.Aggregate(1.0, (product, c) => product * Chance(cause, c, engine));
                Assert.True(together < Tolerable, $"{cause.Id} shows them together with {together:0.00}");
            }
        }
    }

    [Theory]
    [MemberData(nameof(Rules))]
    public void The_readings_are_named_as_a_contradiction_and_the_one_to_retake_comes_next(string id)
    {
        var rule = Rule(id);
        var engine = Engines(rule).First();
        var at = Place.Cylinder(2);
        var readings = ShownReadings.For(engine, [.. rule.All.Select(c => (c.Test, at, c.Outcomes[0])), .. NeedsOf(rule, at)]);

        var answer = Diagnostician.Assess(new Workup { Engine = engine, Readings = [.. readings] }, Knowledge.Shipped);

        Assert.Contains(answer.Contradictions, c => c.Because == rule.Because && c.Retake == rule.Retake && c.At == at);
        Assert.Contains(answer.Next, n => n.Test == rule.Retake && n.At == at);
        Assert.Null(answer.Conclusion);
    }

    [Theory]
    [MemberData(nameof(Rules))]
    public void What_is_to_be_retaken_is_one_of_the_readings(string id) =>
        Assert.Contains(Rule(id).Retake, Rule(id).All.Select(c => Knowledge.Shipped.Aspect(c.Test)!.Value.Test.Id));

    // A wet test means something only after a low dry one.
    private static (string, Place, string)[] NeedsOf(ContradictionRule rule, Place at) =>
        rule.All.Any(c => c.Test == "compression-wet") ? [("compression-dry", at, "low")] : [];

    private static double Chance(Causes.Cause cause, OutcomeAt condition, Engine engine)
    {
        var aspect = Knowledge.Shipped.Aspect(condition.Test)!.Value.Aspect;
        var rule = cause.RuleFor(condition.Test, Relation.Here, BenchTest.KindOf(aspect.Scope), engine);
        return condition.Outcomes.Sum(o => rule?.Shows.GetValueOrDefault(o) ?? aspect.Outcomes.Single(a => a.Id == o).Healthy);
    }

    private static IEnumerable<Engine> Engines(ContradictionRule rule) => Knowledge.Shipped.Profiles.Select(p => Engine.Create(p.Spec).Value)
        .Where(e => e.CylinderCount <= 6 && rule.Fits(e) && rule.All.All(c => Knowledge.Shipped.Aspect(c.Test)!.Value.Test.Fits(e)));

    private static ContradictionRule Rule(string id) => Knowledge.Shipped.Contradictions.Single(c => c.Id == id);
}
