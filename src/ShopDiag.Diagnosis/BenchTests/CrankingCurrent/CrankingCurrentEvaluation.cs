using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests.CrankingCurrent;

/// <summary>Compares the relative compression of each cylinder with the middle of the others. Evenly worn cylinders hide, and it says so.</summary>
internal sealed class CrankingCurrentEvaluation : ITestEvaluation
{
    private const string Share = "cranking-share-percent";

    /// <inheritdoc/>
    public string Name => "cranking-current";

    /// <inheritdoc/>
    public IEnumerable<Finding> Evaluate(EvaluationInput input)
    {
        var humps = new Beside(input, "relativePercent");
        return humps.Values.Select(h => Judge(input, humps, h.At, h.Value)).ToList();
    }

    private static Finding Judge(EvaluationInput input, Beside humps, Place at, double percent)
    {
        if (humps.OtherCount(at) < 2)
        {
            return input.Finding(at, null, $"{Words.Percent(percent)}; with fewer than three cylinders there is nothing to compare it with.", percent);
        }

        var (others, share) = (humps.Others(at)!.Value, input.Limits[Share]);
        var low = percent < others * share / 100;
        var because = low
            ? $"{Words.Percent(percent)}, below {Words.Percent(share)} of the others' {Words.Percent(others)} ({input.Whose(Share)})."
            : $"{Words.Percent(percent)}, like the others ({Words.Percent(others)}). That all are alike low does not show in this test.";
        return input.Finding(at, low ? "low" : "good", because, percent) with { ByDefaultLimit = !input.Limits.IsOwn(Share) };
    }
}
