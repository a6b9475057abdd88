using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests.IntakeLeak;

/// <summary>Found or not found, with the place it was found at in the words.</summary>
internal sealed class IntakeLeakEvaluation : ITestEvaluation
{
    /// <inheritdoc/>
    public string Name => "intake-leak";

    /// <inheritdoc/>
    public IEnumerable<Finding> Evaluate(EvaluationInput input) =>
        GivenChoice.EachPlace(input, "found", (at, trials, found) =>
        {
            var where = string.Join("; ", trials.Words("where").Where(w => !string.IsNullOrWhiteSpace(w)).Select(w => w.Trim()));
            return found.Id == "yes"
                ? input.Finding(at, "leak", where.Length == 0 ? "Air gets in past the metering." : $"Air gets in past the metering: {where}.")
                : input.Finding(at, "none", where.Length == 0 ? "No air found getting in." : $"No air found getting in; looked at: {where}.");
        });
}
