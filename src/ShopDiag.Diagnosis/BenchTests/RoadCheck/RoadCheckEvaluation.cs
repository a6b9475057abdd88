using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests.RoadCheck;

/// <summary>One finding a condition: named, or driven and not named. Drives under different conditions are taken together.</summary>
internal sealed class RoadCheckEvaluation : ITestEvaluation
{
    private const string Field = "conditions";

    /// <inheritdoc/>
    public string Name => "road-check";

    /// <inheritdoc/>
    public IEnumerable<Finding> Evaluate(EvaluationInput input)
    {
        var conditions = input.Test.Fields.Single(f => f.Name == Field).Choices;
        return input.Readings
            .Where(r => r.Value.Any(t => t.Value.Has(Field)))
            .SelectMany(r => conditions.Select(c => r.Value.Words(Field).Contains(c.Id)
                ? input.Finding(r.Key, "named", $"It misfires: {c.Label.ToLowerInvariant()}.", aspect: $"when-{c.Id}")
                : input.Finding(r.Key, "not-named", $"Not said to misfire: {c.Label.ToLowerInvariant()}.", aspect: $"when-{c.Id}")))
            .ToList();
    }
}
