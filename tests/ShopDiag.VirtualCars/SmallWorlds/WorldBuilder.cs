using System.Collections.Immutable;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Causes;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Limits;

namespace ShopDiag.VirtualCars.SmallWorlds;

/// <summary>Puts a small world together. All of its numbers are made up.</summary>
internal sealed class WorldBuilder(string name, string asks)
{
    private const string Pull = "pull";
    private const string MadeUp = "made up";
    private const int DeadCylinder = 2;

    private readonly List<BenchTest> _tests = [TestOf(Pull, TestScope.Cylinder, 1, Access.None, 0, [], [("dead", 0.001), ("fine", 0.999)])];
    private readonly List<Cause> _causes = [];
    private double _plugMinutes = 5;
    private double _coverMinutes = 20;
    private double _bankMinutes;

    /// <summary>What it costs to take things off, in minutes.</summary>
    public WorldBuilder TakingOff(double plug = 5, double valveCover = 20, double bank = 0)
    {
        (_plugMinutes, _coverMinutes, _bankMinutes) = (plug, valveCover, bank);
        return this;
    }

    /// <summary>A test at the dead cylinder: its outcomes with what a sound cylinder shows.</summary>
    public WorldBuilder Test(string id, double minutes, Access access, double slip, params (string Outcome, double Healthy)[] outcomes) =>
        Add(TestOf(id, TestScope.Cylinder, minutes, access, slip, [], outcomes));

    /// <summary>A test at the dead cylinder that means nothing until another came to an outcome.</summary>
    public WorldBuilder TestAfter((string Test, string Outcome) need, string id, double minutes, Access access, double slip, params (string Outcome, double Healthy)[] outcomes) =>
        Add(TestOf(id, TestScope.Cylinder, minutes, access, slip, [new OutcomeAt(need.Test, [need.Outcome])], outcomes));

    /// <summary>A test that is read once for the whole engine.</summary>
    public WorldBuilder EngineTest(string id, double minutes, double slip, params (string Outcome, double Healthy)[] outcomes) =>
        Add(TestOf(id, TestScope.Engine, minutes, Access.None, slip, [], outcomes));

    /// <summary>A cause of a dead cylinder: its share and what it shows, in the order of the outcomes. Proofs are added with <see cref="Proof"/>.</summary>
    public WorldBuilder Cause(string id, double weight, params (string Test, double[] Shows)[] shows)
    {
        _causes.Add(new Cause
        {
            Id = id,
            Title = id,
            Scope = CauseScope.Cylinder,
            Weight = weight,
            Alone = true,
            Shows = [Rule(Pull, [0.98, 0.02]), .. shows.Select(s => Rule(s.Test, s.Shows))],
            // Dear enough that repairing unproven is never the question here.
            Repair = new CauseRepair { Summary = MadeUp, LabourMinutes = 60, PartsInMinutes = 120, Check = [] },
            IfLeft = MadeUp,
            ForCustomer = MadeUp,
            Source = MadeUp,
        });
        return this;
    }

    /// <summary>What the knowledge does not list: it looks sound on every test and can never be proven.</summary>
    public WorldBuilder Unlisted(double weight)
    {
        Cause("unlisted", weight);
        _causes[^1] = _causes[^1] with { Unlisted = true };
        return this;
    }

    /// <summary>Readings that prove the cause added last; called again it gives another way.</summary>
    public WorldBuilder Proof(params (string Test, string Outcome)[] all)
    {
        var rule = new ProofRule([.. all.Select(c => new OutcomeAt(c.Test, [c.Outcome]))], MadeUp);
        _causes[^1] = _causes[^1] with { Proof = _causes[^1].Proof.Add(rule) };
        return this;
    }

    /// <summary>The world.</summary>
    public SmallWorld Build()
    {
        var engine = EngineOf(_bankMinutes);
        return new SmallWorld
        {
            Name = name,
            Asks = asks,
            Engine = engine,
            Knowledge = new Knowledge(_tests, _causes.OrderBy(c => c.Id, StringComparer.Ordinal), [], [Minutes("plug-out-min", _plugMinutes), Minutes("valve-cover-min", _coverMinutes)], []),
            Given = [.. engine.Cylinders.Select(c => Seen(Pull, Place.Cylinder(c), c == DeadCylinder ? "dead" : "fine"))],
            Steps = [.. _tests.Skip(1).Select(t => new WorldStep(t.Id, t.Scope == TestScope.Engine ? Place.Engine : Place.Cylinder(DeadCylinder)))],
        };
    }

    /// <summary>A reading of a small world's test.</summary>
    public static Reading Seen(string test, Place at, string outcome) => new()
    {
        Test = test, At = at, Value = new ReadingValue([new("seen", FieldValue.Of(outcome))]),
    };

    private WorldBuilder Add(BenchTest test)
    {
        _tests.Add(test);
        return this;
    }

    private EvidenceRule Rule(string test, double[] shows)
    {
        var about = _tests.Single(t => t.Id == test);
        var outcomes = about.Aspects[0].Outcomes;
        return new EvidenceRule
        {
            Aspect = test,
            Where = about.Scope == TestScope.Engine ? Relation.Engine : Relation.Here,
            Shows = outcomes.Select((o, i) => KeyValuePair.Create(o.Id, shows[i])).ToImmutableDictionary(StringComparer.Ordinal),
            Because = MadeUp,
            Against = MadeUp,
            Source = MadeUp,
        };
    }

    private static BenchTest TestOf(
        string id, TestScope scope, double minutes, Access access, double slip, ImmutableArray<OutcomeAt> needs, (string Outcome, double Healthy)[] outcomes) => new()
    {
        Id = id,
        Title = id,
        Purpose = MadeUp,
        Plainly = MadeUp,
        Chapter = "Ignition",
        Scope = scope,
        Fields = [new TestField { Name = "seen", Label = "Seen", Kind = FieldKind.Choice, Choices = [.. outcomes.Select(o => new Choice(o.Outcome, o.Outcome))] }],
        Aspects = [new Aspect { Id = id, Scope = scope, Outcomes = [.. outcomes.Select(o => new AspectOutcome(o.Outcome, o.Outcome, o.Healthy))] }],
        FirstMinutes = minutes,
        EachMinutes = minutes,
        Access = access,
        HowTo = [MadeUp],
        Cautions = [MadeUp],
        Needs = needs,
        Slip = slip,
        Evaluation = "as-given",
        Source = MadeUp,
    };

    private static Engine EngineOf(double bankMinutes) => Engine.Create(new EngineSpec
    {
        Layout = "I4",
        Banks = [[1, 2, 3, 4]],
        FiringOrder = [1, 3, 4, 2],
        Ignition = Ignition.CoilOnPlug,
        Injection = Injection.Port,
        AccessMinutes = ImmutableDictionary<int, double>.Empty.Add(1, bankMinutes),
    }).Value;

    private static Limit Minutes(string id, double minutes) =>
        new() { Id = id, Title = id, Quantity = "minutes", Default = minutes, Min = 0, Max = 120, Source = MadeUp };
}
