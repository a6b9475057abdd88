using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests.FuelSample;

/// <summary>Clean, or contaminated with the kind in the words.</summary>
internal sealed class FuelSampleEvaluation : ITestEvaluation
{
    /// <inheritdoc/>
    public string Name => "fuel-sample";

    /// <inheritdoc/>
    public IEnumerable<Finding> Evaluate(EvaluationInput input) => GivenChoice.EachPlace(input, "seen", (at, _, seen) =>
        input.Finding(at, seen.Id == "clean" ? "clean" : "contaminated", $"The sample: {seen.Label.ToLowerInvariant()}."));
}
