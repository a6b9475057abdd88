using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.Diagnosis.Workups;

/// <summary>
/// A test that cannot be taken on this car: no port, no room, a thread that would not hold. It says nothing of what is wrong; nothing is planned that needs the test there.
/// </summary>
/// <param name="Test">The test's id.</param>
/// <param name="At">Where it cannot be taken: a place that the test takes, or the engine, which means nowhere on this car.</param>
public sealed record Obstacle(string Test, Place At)
{
    /// <summary>Why, in the technician's words; empty when not said. Never used by the reasoning.</summary>
    public string Why { get; init; } = "";

    /// <summary>What is wrong with it (an unknown test, a place that is not there), or null.</summary>
    public InputError? Error(Knowledge knowledge, Engine engine)
    {
        ArgumentNullException.ThrowIfNull(knowledge);
        ArgumentNullException.ThrowIfNull(engine);
        if (knowledge.Test(Test) is not { } test)
        {
            return new("test", $"There is no test '{Test}'. Known: {string.Join(", ", knowledge.Tests.Select(t => t.Id))}.");
        }

        return At == Place.Engine ? null : ReadingCheck.PlaceError(At, test, engine);
    }

    /// <summary>True when it stands in the way of the test at a place.</summary>
    public bool Blocks(BenchTest test, Place at)
    {
        ArgumentNullException.ThrowIfNull(test);
        return test.Id == Test && (At == Place.Engine || At == at);
    }
}
