using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Causes;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.Tests.KnowledgeFiles;

/// <summary>The proofs that the causes name, played through with readings.</summary>
public sealed class ProofTests
{
    private const string Balance = "power-balance";

    public static TheoryData<string, int> Proofs =>
        [.. Knowledge.Shipped.Causes.SelectMany(c => c.Proof.Select((_, i) => new TheoryDataRow<string, int>(c.Id, i)))];

    [Fact]
    public void Every_cause_names_a_proof() => Assert.Empty(Knowledge.Shipped.Causes.Where(c => c.Proof.IsEmpty && !c.Unlisted).Select(c => c.Id));

    [Fact]
    public void A_cause_can_be_proven_on_every_engine_on_which_it_exists()
    {
        var open =
            from cause in Knowledge.Shipped.Causes
            where !cause.Unlisted
            from engine in CauseFilesTests.EnginesOf(cause)
            where !cause.ProofOn(engine).Any(rule => rule.All.All(c => Knowledge.Shipped.Aspect(c.Test)!.Value.Test.Fits(engine)))
            select (cause.Id, engine.Ignition, engine.Injection);

        Assert.Empty(open.Distinct());
    }

    [Theory]
    [MemberData(nameof(Proofs))]
    public void The_readings_that_a_proof_asks_for_prove_its_cause_and_no_other(string id, int proof)
    {
        var cause = Knowledge.Shipped.Cause(id)!;
        var engine = Engines(id, proof).OrderByDescending(e => e.Banks.Length == 2 && e.CylinderCount == 6).First();
        var at = cause.PlacesOn(engine).Last();

        foreach (var outcomes in Combinations(Rule(id, proof)))
        {
            var wanted = outcomes.SelectMany(o => PlacesOf(engine, at, o.Condition, cause).Select(p => (o.Condition.Test, p, o.Outcome)))
                .Concat(Known(engine, cause, at, outcomes)).ToArray();
            // A second look takes the whole test again.
            var twice = outcomes.Where(o => o.Condition.Twice).Select(o => Knowledge.Shipped.Aspect(o.Condition.Test)!.Value.Test.Id).ToHashSet();
            var again = outcomes.Where(o => twice.Contains(Knowledge.Shipped.Aspect(o.Condition.Test)!.Value.Test.Id)).SelectMany(o => PlacesOf(engine, at, o.Condition, cause).Select(p => (o.Condition.Test, p, o.Outcome))).ToArray();
            var answer = Diagnostician.Assess(new Workup { Engine = engine, Readings = [.. ShownReadings.For(engine, wanted), .. ShownReadings.For(engine, again)] }, Knowledge.Shipped);

            Assert.Empty(answer.Contradictions);
            var said = string.Join(", ", outcomes.Select(o => $"{o.Condition.Test} {o.Outcome}"));
            Assert.True(answer.Conclusion is not null, $"{said}: not proven, {answer.Causes[0].Cause} at {answer.Causes[0].At} leads with {answer.Causes[0].Probability:0.00}");
            Assert.Equal(new ProvenCause(id, at), Assert.Single(answer.Conclusion.Causes));
        }
    }

    [Theory]
    [InlineData("P0300")]
    [InlineData("P0302")]
    public void Sound_cylinders_do_not_prove_that_there_is_no_misfire_while_a_misfire_code_is_stored(string code)
    {
        var engine = Engine.Create(Knowledge.Shipped.Profiles.Single(p => p.Id == "i4-1342-coil-on-plug-port").Spec).Value;
        var sound = engine.Cylinders.SelectMany(c => new[] { (Balance, Place.Cylinder(c), "contributing"), ("misfire-counts", Place.Cylinder(c), "clean") })
            .Append(("fuel-trims", Place.Bank(1), "normal")).Append(("when-load", Place.Engine, "not-named"));
        var stored = code == "P0300" ? ("codes-random", Place.Engine, "random") : ("codes-misfire", Place.Cylinder(2), "coded");

        Assert.NotNull(Assess(sound).Conclusion);
        Assert.Null(Assess([.. sound, stored]).Conclusion);

        Assessment Assess(IEnumerable<(string, Place, string)> wanted) =>
            Diagnostician.Assess(new Workup { Engine = engine, Readings = [.. ShownReadings.For(engine, [.. wanted])] }, Knowledge.Shipped);
    }

    // A workup starts by finding the cylinder, or that it is none in particular: what the cause usually does to that is known before any proof is looked for.
    private static IEnumerable<(string, Place, string)> Known(Engine engine, Cause cause, Place at, (OutcomeAt Condition, string Outcome)[] proof)
    {
        if (at.Kind is not (PlaceKind.Cylinder or PlaceKind.Pair))
        {
            return cause.Alone ? [] : Spread(engine, cause, at, proof);
        }

        if (proof.Any(p => p.Condition.Test == Balance))
        {
            return [];
        }

        // What does not show at idle is counted on the road.
        var usual = cause.RuleFor(Balance, Relation.Here, PlaceKind.Cylinder, engine)!.Shows.MaxBy(s => s.Value).Key;
        var (test, shown) = usual == "contributing" ? ("misfire-counts", "misfiring") : (Balance, usual);
        return engine.CylindersAt(at).Select(c => (test, Place.Cylinder(c), shown));
    }

    // Misfires on two cylinders of the place that are neither neighbours nor companions, whose spark has been looked at first.
    private static IEnumerable<(string, Place, string)> Spread(Engine engine, Cause cause, Place at, (OutcomeAt Condition, string Outcome)[] proof)
    {
        int[] cylinders = [.. at.Kind == PlaceKind.Engine ? engine.Cylinders : engine.CylindersAt(at)];
        var one = cylinders[0];
        var other = cylinders.Last(c => c != one && c != engine.Companion(one) && (cylinders.Length < 3 || !engine.Neighbours(one).Contains(c)));
        var counted = engine.Cylinders.Select(c => ("misfire-counts", Place.Cylinder(c), c == one || c == other ? "misfiring" : "clean"));
        (string, Place, string)[] codes = proof.Any(p => p.Condition.Test.StartsWith("codes-", StringComparison.Ordinal)) ? [] : [("codes-random", Place.Engine, "random")];
        var sparks = cause.Shows.Any(r => r.Aspect == "spark-output") || proof.Any(p => p.Condition.Test == "spark-output")
            ? []
            : new[] { one, other }.Select(c => ("spark-output", Place.Cylinder(c), "strong"));
        return [.. counted, .. codes, .. sparks];
    }

    private static IEnumerable<(OutcomeAt Condition, string Outcome)[]> Combinations(ProofRule rule) => rule.All.Aggregate(
        (IEnumerable<(OutcomeAt, string)[]>)[[]], (made, condition) => made.SelectMany(m => condition.Outcomes.Select(o => m.Append((condition, o)).ToArray())));

    private static IEnumerable<Place> PlacesOf(Engine engine, Place at, OutcomeAt condition, Cause cause)
    {
        var (test, aspect) = Knowledge.Shipped.Aspect(condition.Test)!.Value;
        if (test.AlsoScopes.Any(s => BenchTest.KindOf(s) == at.Kind))
        {
            return [at];
        }

        if (condition.AtLeast > 0)
        {
            return engine.CylindersAt(at).Take(condition.AtLeast).Select(Place.Cylinder);
        }

        return (aspect.Scope, condition.Where) switch
        {
            (TestScope.Cylinder, Relation.Here) when at.Kind == PlaceKind.Engine => engine.Cylinders.Select(Place.Cylinder),
            (TestScope.Bank, Relation.Here) when at.Kind == PlaceKind.Engine => Enumerable.Range(1, engine.Banks.Length).Select(Place.Bank),
            (TestScope.Cylinder, Relation.Here) => engine.CylindersAt(at).Select(Place.Cylinder),
            (TestScope.Cylinder, Relation.Neighbour) => engine.Neighbours(at.First).Select(Place.Cylinder),
            (TestScope.Cylinder, Relation.Companion) => [Place.Cylinder(engine.Companion(at.First)!.Value)],
            (TestScope.Bank, _) => engine.CylindersAt(at).Select(engine.BankOf).Distinct().Select(Place.Bank),
            (TestScope.Engine, _) => [Place.Engine],
            _ => throw new InvalidOperationException($"{cause.Id}: {condition} is not played through here."),
        };
    }

    private static ProofRule Rule(string cause, int proof) => Knowledge.Shipped.Cause(cause)!.Proof[proof];

    private static IEnumerable<Engine> Engines(string cause, int proof) =>
        CauseFilesTests.EnginesOf(Knowledge.Shipped.Cause(cause)!).Where(e =>
            Rule(cause, proof).Fits(e) && Rule(cause, proof).All.All(c => Knowledge.Shipped.Aspect(c.Test)!.Value.Test.Fits(e)));
}
