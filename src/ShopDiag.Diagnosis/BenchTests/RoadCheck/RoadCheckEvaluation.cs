using System.Collections.Immutable;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests.RoadCheck;

/// <summary>
/// One finding for each condition: named when any of two drives showed the misfire under it; from three drives on when at least half of them did, since what is felt
/// once can be felt wrongly. Where it misfires always, nothing is said of idle, load, cold and hot, since always contains them.
/// </summary>
internal sealed class RoadCheckEvaluation : ITestEvaluation
{
    private const string Field = "conditions";
    private const string Always = "always";
    private static readonly ImmutableArray<string> WithinAlways = ["idle", "load", "cold", "hot"];

    /// <inheritdoc/>
    public string Name => "road-check";

    /// <summary>Id of the aspect that speaks of a condition.</summary>
    public static string AspectOf(Choice condition) => $"when-{condition.Id}";

    /// <inheritdoc/>
    public IEnumerable<Finding> Evaluate(EvaluationInput input)
    {
        foreach (var (at, drives) in input.Readings)
        {
            var named = Named(drives);
            foreach (var condition in input.Test.Fields.Single(f => f.Name == Field).Choices)
            {
                if (named.Contains(condition.Id))
                {
                    yield return Found(input, at, condition, "named", $"It misfires: {condition.Label}.");
                }
                else if (!(named.Contains(Always) && WithinAlways.Contains(condition.Id)))
                {
                    yield return Found(input, at, condition, "not-named", named.Count == 0 ? "It did not misfire during the drive." : $"Not named: {condition.Label}.");
                }
            }
        }
    }

    private static HashSet<string> Named(ImmutableArray<Reading> drives)
    {
        var least = drives.Length < 3 ? 1 : (drives.Length + 1) / 2;
        return [.. drives.SelectMany(d => d.Value.Texts(Field).Distinct()).GroupBy(w => w, StringComparer.Ordinal).Where(g => g.Count() >= least).Select(g => g.Key)];
    }

    private static Finding Found(EvaluationInput input, Place at, Choice condition, string outcome, string because) =>
        input.Finding(at, outcome, because, aspect: AspectOf(condition));
}
