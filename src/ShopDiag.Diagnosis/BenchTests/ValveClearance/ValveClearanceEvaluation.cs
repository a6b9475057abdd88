using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests.ValveClearance;

/// <summary>Compares both clearances with the maker's figures, or the general ones. Tight is named before loose: it burns the valve.</summary>
internal sealed class ValveClearanceEvaluation : ITestEvaluation
{
    /// <inheritdoc/>
    public string Name => "valve-clearance";

    /// <inheritdoc/>
    public IEnumerable<Finding> Evaluate(EvaluationInput input)
    {
        var (intake, exhaust) = (new Beside(input, "intakeMm"), new Beside(input, "exhaustMm"));
        foreach (var at in input.Readings.Keys)
        {
            if (intake.At(at) is { } i && exhaust.At(at) is { } e)
            {
                var (one, other) = (Judge(input, "Intake", "intake-clearance", i), Judge(input, "exhaust", "exhaust-clearance", e));
                var outcome = one.Outcome == "tight" || other.Outcome == "tight" ? "tight" : one.Outcome == "loose" || other.Outcome == "loose" ? "loose" : "within";
                yield return input.Finding(at, outcome, $"{one.Words}; {other.Words}.", Math.Min(i, e)) with { ByDefaultLimit = one.General || other.General };
            }
        }
    }

    private static (string Outcome, string Words, bool General) Judge(EvaluationInput input, string name, string limit, double millimetres)
    {
        var (least, most) = ($"{limit}-min-mm", $"{limit}-max-mm");
        var outcome = millimetres < input.Limits[least] ? "tight" : millimetres > input.Limits[most] ? "loose" : "within";
        return (outcome, $"{name} {Words.Length(millimetres)}, {outcome}: {Words.Length(input.Limits[least])} to {Words.Length(input.Limits[most])} ({input.Whose(least)})", !input.Limits.IsOwn(least));
    }
}
