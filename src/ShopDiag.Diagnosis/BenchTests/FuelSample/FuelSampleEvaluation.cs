using System.Collections.Immutable;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests.FuelSample;

/// <summary>Clean, or contaminated by whatever was seen in it. Samples of which one is clean and another not are taken again.</summary>
internal sealed class FuelSampleEvaluation : ITestEvaluation
{
    private const string Seen = "seen";

    /// <inheritdoc/>
    public string Name => "fuel-sample";

    /// <inheritdoc/>
    public IEnumerable<Finding> Evaluate(EvaluationInput input)
    {
        var choices = input.Test.Fields.Single(f => f.Name == Seen).Choices;
        foreach (var (at, samples) in input.Readings)
        {
            var seen = choices.Where(c => samples.Words(Seen).Contains(c.Id)).ToImmutableArray();
            if (!seen.IsEmpty)
            {
                yield return Judge(input, at, seen);
            }
        }
    }

    private static Finding Judge(EvaluationInput input, Place at, ImmutableArray<Choice> seen)
    {
        var clean = seen.Any(c => c.Id == "clean");
        return clean && seen.Length > 1 ? GivenChoice.Differ(input, at, seen.Select(c => c.Label))
            : clean ? input.Finding(at, "clean", "The sample is clean and clear.")
            : input.Finding(at, "contaminated", $"In the sample: {string.Join("; ", seen.Select(c => c.Label))}.");
    }
}
