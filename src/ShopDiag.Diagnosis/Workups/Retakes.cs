using System.Collections.Immutable;
using ShopDiag.Diagnosis.BenchTests;

namespace ShopDiag.Diagnosis.Workups;

/// <summary>
/// What several readings of one test at one place come to, each judged alone beside the other places. A retake that agrees makes a slip unlikely; one that disagrees
/// counts against the first, and a third decides.
/// </summary>
internal static class Retakes
{
    /// <summary>The finding with what each of its trials came to; unchanged where the place was read once.</summary>
    public static Finding Counted(Finding finding, EvaluationInput input, ITestEvaluation evaluation)
    {
        if (!input.Readings.TryGetValue(finding.At, out var readings) || readings.Length < 2)
        {
            return finding;
        }

        var trials = readings.Select(r => Alone(r, finding, input, evaluation)).OfType<string>().Order(StringComparer.Ordinal).ToImmutableArray();
        return trials.Length < 2 ? finding : Decided(finding with { Trials = Telling(trials, input.Test.Aspects.First(a => a.Id == finding.Aspect)) });
    }

    private static string? Alone(Reading reading, Finding finding, EvaluationInput input, ITestEvaluation evaluation) => evaluation
        .Evaluate(input with { Readings = input.Readings.SetItem(finding.At, [reading]) })
        .FirstOrDefault(f => f.Aspect == finding.Aspect && f.At == finding.At)?.Outcome;

    // A trial in which the trouble did not show itself counts only where no other shows more.
    private static ImmutableArray<string> Telling(ImmutableArray<string> trials, Aspect aspect)
    {
        var again = aspect.Outcomes.Where(o => o.TakeAgain).Select(o => o.Id).ToHashSet(StringComparer.Ordinal);
        return trials.All(again.Contains) ? trials : [.. trials.Where(t => !again.Contains(t))];
    }

    // Where the trials together cannot tell, what more than half of three or more say is taken; and what all of them say alone, however far their figures lie apart.
    private static Finding Decided(Finding finding)
    {
        var most = finding.Trials.GroupBy(t => t, StringComparer.Ordinal).OrderByDescending(g => g.Count()).ThenBy(g => g.Key, StringComparer.Ordinal).First();
        var decides = most.Count() == finding.Trials.Length || (finding.Trials.Length >= 3 && 2 * most.Count() > finding.Trials.Length);
        if (!finding.TrialsDisagree || !decides)
        {
            return finding;
        }

        return finding with
        {
            Outcome = most.Key,
            TrialsDisagree = false,
            Because = $"{finding.Because} {most.Count()} of {finding.Trials.Length} trials agree; that counts.",
        };
    }
}
