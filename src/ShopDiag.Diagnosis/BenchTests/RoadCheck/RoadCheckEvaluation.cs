using System.Collections.Immutable;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests.RoadCheck;

/// <summary>
/// One finding for each condition: named when any drive showed the misfire under it. Where it misfires always, nothing is
/// said of idle, load, cold and hot, since always contains them.
/// </summary>
internal sealed class RoadCheckEvaluation : ITestEvaluation
{
    private const string Field = "conditions";
    private const string Always = "always";
    private static readonly ImmutableArray<string> WithinAlways = ["idle", "load", "cold", "hot"];

    /// <inheritdoc/>
    public string Name => "road-check";

    /// <inheritdoc/>
    public IEnumerable<Finding> Evaluate(EvaluationInput input)
    {
        foreach (var (at, drives) in input.Readings)
        {
            var named = drives.Words(Field);
            foreach (var condition in input.Test.Fields.Single(f => f.Name == Field).Choices)
            {
                if (named.Contains(condition.Id))
                {
                    yield return Found(input, at, condition, "named", $"It misfires: {condition.Label}.");
                }
                else if (!(named.Contains(Always) && WithinAlways.Contains(condition.Id)))
                {
                    yield return Found(input, at, condition, "not-named", named.IsEmpty ? "It did not misfire during the drive." : $"Not named: {condition.Label}.");
                }
            }
        }
    }

    private static Finding Found(EvaluationInput input, Place at, Choice condition, string outcome, string because) =>
        input.Finding(at, outcome, because, aspect: $"when-{condition.Id}");
}
