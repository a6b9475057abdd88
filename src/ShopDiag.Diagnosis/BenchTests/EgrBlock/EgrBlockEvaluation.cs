using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests.EgrBlock;

/// <summary>Whether the misfire went away while no exhaust gas could get into the intake.</summary>
internal sealed class EgrBlockEvaluation : ITestEvaluation
{
    /// <inheritdoc/>
    public string Name => "egr-block";

    /// <inheritdoc/>
    public IEnumerable<Finding> Evaluate(EvaluationInput input) => GivenChoice.EachPlace(input, "misfireGone", (at, _, gone) => gone.Id == "yes"
        ? input.Finding(at, "gone", "With the EGR blocked off the misfire is gone: exhaust gas gets in when it should not.")
        : input.Finding(at, "stays", "With the EGR blocked off it misfires as before, so it is not the EGR."));
}
