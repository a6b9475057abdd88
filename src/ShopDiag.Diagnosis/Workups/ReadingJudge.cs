using System.Collections.Immutable;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Limits;

namespace ShopDiag.Diagnosis.Workups;

/// <summary>Turns the readings of a workup into findings, test by test in the order of the sheet.</summary>
internal static class ReadingJudge
{
    /// <summary>The findings of one stage.</summary>
    public static ImmutableArray<Finding> Judge(Workup workup, Knowledge knowledge, Stage stage)
    {
        var limits = new LimitSet(knowledge.Limits, workup.Engine.Spec.Limits);
        var readings = Counting(workup, knowledge, stage).ToLookup(r => r.Test);
        var findings = ImmutableArray<Finding>.Empty;
        foreach (var test in knowledge.Tests)
        {
            var words = readings.Contains(test.Id) ? null : CustomersWords(workup, test, stage);
            if (words is null && !readings.Contains(test.Id))
            {
                continue;
            }

            var input = new EvaluationInput
            {
                Test = test,
                Engine = workup.Engine,
                Limits = limits,
                Shop = workup.Shop,
                Stage = stage,
                Readings = ByPlace(words is null ? readings[test.Id] : [words]),
                Earlier = findings,
            };
            var evaluation = EvaluationOf(test);
            findings = findings.AddRange(evaluation.Evaluate(input)
                .Where(f => words is null || IsSaid(f, knowledge))
                .Select(f => words is null ? Retakes.Counted(f, input, evaluation) : f with { Said = true })
                .OrderBy(f => f.Aspect, StringComparer.Ordinal).ThenBy(f => f.At));
        }

        return findings;
    }

    /// <summary>The readings of a stage that no later one supersedes; before the repair also the codes that the car came in with.</summary>
    public static IEnumerable<Reading> Counting(Workup workup, Knowledge knowledge, Stage stage)
    {
        var superseded = workup.Readings.Select(r => r.Supersedes).OfType<int>().ToHashSet();
        foreach (var reading in workup.Readings.Where((r, i) => r.Stage == stage && !superseded.Contains(i)))
        {
            yield return reading;
        }

        if (stage == Stage.Before && !workup.Concern.Codes.IsDefaultOrEmpty && knowledge.CodesTest is { } codes)
        {
            yield return codes.ReadingOf(workup.Concern.Codes);
        }
    }

    // What the customer says of when it happens counts until somebody has driven the car; what he leaves unsaid says nothing.
    private static Reading? CustomersWords(Workup workup, BenchTest test, Stage stage) =>
        stage == Stage.Before && test.ConditionsField is { } field && workup.Concern.When.Where(w => field.Choices.Any(c => c.Id == w)).ToArray() is { Length: > 0 } said
            ? new Reading { Test = test.Id, At = Place.Engine, Value = new ReadingValue([new(field.Name, FieldValue.Of(said))]) }
            : null;

    private static bool IsSaid(Finding finding, Knowledge knowledge) =>
        knowledge.Aspect(finding.Aspect)!.Value.Aspect.Outcomes.FirstOrDefault(o => o.Id == finding.Outcome) is { Good: false };

    private static ITestEvaluation EvaluationOf(BenchTest test) => Evaluations.All.TryGetValue(test.Evaluation, out var evaluation)
        ? evaluation
        : throw new InvalidOperationException($"The test '{test.Id}' asks for the evaluation '{test.Evaluation}', which does not exist.");

    // Trials are put in the order of their values, so that the order of entry cannot change an answer.
    private static ImmutableSortedDictionary<Place, ImmutableArray<Reading>> ByPlace(IEnumerable<Reading> readings) =>
        readings.GroupBy(r => r.At).ToImmutableSortedDictionary(g => g.Key, g => g.Skip(1).Any() ? [.. g.OrderBy(r => SortKey(r.Value), StringComparer.Ordinal)] : g.ToImmutableArray());

    private static string SortKey(ReadingValue value) => string.Join('|', value.Fields.Select(f =>
        $"{f.Key}={string.Join(',', f.Value.Numbers.Select(n => n.ToString("R", System.Globalization.CultureInfo.InvariantCulture)))}{string.Join(',', f.Value.Texts)}"));
}
