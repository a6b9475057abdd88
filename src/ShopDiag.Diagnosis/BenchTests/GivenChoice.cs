using System.Collections.Immutable;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests;

/// <summary>What the trials at one place agree on where the technician picks from a list.</summary>
internal static class GivenChoice
{
    /// <summary>
    /// Judges the one word that all trials give, or makes the finding "cannot tell, take it again" when they differ;
    /// nothing where the field is empty.
    /// </summary>
    public static IEnumerable<Finding> EachPlace(EvaluationInput input, string field, Func<Place, ImmutableArray<Reading>, Choice, Finding> judge)
    {
        var choices = input.Test.Fields.Single(f => f.Name == field).Choices;
        foreach (var (at, trials) in input.Readings)
        {
            var given = choices.Where(c => trials.Words(field).Contains(c.Id)).ToImmutableArray();
            if (given.Length > 1)
            {
                yield return Differ(input, at, given.Select(c => c.Label));
            }
            else if (given.Length == 1)
            {
                yield return judge(at, trials, given[0]);
            }
        }
    }

    /// <summary>The finding that trials at one place differ.</summary>
    public static Finding Differ(EvaluationInput input, Place at, IEnumerable<string> words) =>
        input.Finding(at, null, $"The trials differ ({string.Join("; ", words)}): take it again and correct the wrong one.") with { TrialsDisagree = true };
}
