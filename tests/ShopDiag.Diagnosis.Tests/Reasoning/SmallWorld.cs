using System.Collections.Immutable;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Causes;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Limits;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.Tests.Reasoning;

/// <summary>Knowledge made up for a test: a few tests of one choice each and a few causes, so that answers can be worked out by hand.</summary>
internal static class SmallWorld
{
    public static Engine Twin { get; } = Engine.Create(new EngineSpec
    {
        Layout = "I2", Banks = [[1, 2]], FiringOrder = [1, 2], Ignition = Ignition.CoilOnPlug, Injection = Injection.Port,
    }).Value;

    public static Knowledge Knowledge(IEnumerable<BenchTest> tests, IEnumerable<Cause> causes) => new(
        tests,
        causes,
        [],
        [
            new Limit { Id = "plug-out-min", Title = "Plug", Quantity = "minutes", Default = 5, Min = 0, Max = 60, Source = "made up" },
            new Limit { Id = "valve-cover-min", Title = "Cover", Quantity = "minutes", Default = 20, Min = 0, Max = 60, Source = "made up" },
        ],
        []);

    public static BenchTest Test(string id, TestScope scope, double slip, double minutes, params (string Outcome, double Healthy)[] outcomes) =>
        Grouped(id, null, scope, slip, minutes, outcomes);

    /// <summary>A test whose aspect belongs to a group; the last outcome is the good one.</summary>
    public static BenchTest Grouped(string id, string? group, TestScope scope, double slip, double minutes, params (string Outcome, double Healthy)[] outcomes) => new()
    {
        Id = id,
        Title = id,
        Purpose = "made up",
        Plainly = "made up",
        Chapter = "Ignition",
        Scope = scope,
        Fields = [new TestField { Name = "seen", Label = "Seen", Kind = FieldKind.Choice, Choices = [.. outcomes.Select(o => new Choice(o.Outcome, o.Outcome))] }],
        Aspects = [new Aspect { Id = id, Scope = scope, Group = group, Outcomes = [.. outcomes.Select((o, i) => new AspectOutcome(o.Outcome, o.Outcome, o.Healthy, Good: i == outcomes.Length - 1))] }],
        FirstMinutes = minutes,
        EachMinutes = minutes,
        HowTo = ["made up"],
        Cautions = ["made up"],
        Slip = slip,
        Evaluation = "as-given",
        Source = "made up",
    };

    public static Cause Cause(string id, CauseScope scope, double weight, bool alone, params EvidenceRule[] rules) => new()
    {
        Id = id,
        Title = id,
        Scope = scope,
        Weight = weight,
        Alone = alone,
        Shows = [.. rules],
        Repair = new CauseRepair { Summary = "made up", LabourMinutes = 1, Check = [] },
        IfLeft = "made up",
        ForCustomer = "made up",
        Source = "made up",
    };

    public static EvidenceRule Rule(string test, Relation where, params (string Outcome, double Probability)[] shows) => new()
    {
        Aspect = test,
        Where = where,
        Shows = shows.ToImmutableDictionary(s => s.Outcome, s => s.Probability),
        Because = "for",
        Against = "against",
        Source = "made up",
    };

    public static Reading Seen(string test, Place at, string outcome) => new()
    {
        Test = test, At = at, Value = new ReadingValue([new("seen", FieldValue.Of(outcome))]),
    };

    public static Workup Workup(Engine engine, params Reading[] readings) => new() { Id = "w", Engine = engine, Readings = [.. readings] };
}
