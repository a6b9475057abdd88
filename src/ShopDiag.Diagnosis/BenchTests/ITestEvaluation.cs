using System.Collections.Immutable;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Limits;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests;

/// <summary>Turns the readings of one test into findings. Pure: same readings in any order, same findings.</summary>
public interface ITestEvaluation
{
    /// <summary>The name that <c>test.json</c> calls it by.</summary>
    string Name { get; }

    /// <summary>Judges all readings of the test in one stage together; readings at one place are trials of one measurement.</summary>
    IEnumerable<Finding> Evaluate(EvaluationInput input);
}

/// <summary>What an evaluation gets to see.</summary>
public sealed record EvaluationInput
{
    /// <summary>The test.</summary>
    public required BenchTest Test { get; init; }

    /// <summary>The engine.</summary>
    public required Engine Engine { get; init; }

    /// <summary>Limits of this engine: its own where given, the defaults otherwise.</summary>
    public required LimitSet Limits { get; init; }

    /// <summary>What the shop set (altitude).</summary>
    public required ShopSetup Shop { get; init; }

    /// <summary>The stage judged.</summary>
    public required Stage Stage { get; init; }

    /// <summary>The valid readings of this test in this stage by place, in place order; trials within a place in order of value, not of entry.</summary>
    public required ImmutableSortedDictionary<Place, ImmutableArray<Reading>> Readings { get; init; }

    /// <summary>The findings of the tests evaluated earlier (a wet test looks at the dry one). Tests are evaluated in catalog order.</summary>
    public required ImmutableArray<Finding> Earlier { get; init; }

    /// <summary>Starts a finding for a place with this test's id and stage.</summary>
    public Finding Finding(Place at, string? outcome, string because, double? measure = null, string? aspect = null) => new()
    {
        Test = Test.Id, Aspect = aspect ?? Test.Id, At = at, Stage = Stage, Outcome = outcome, Because = because, Measure = measure,
    };
}
