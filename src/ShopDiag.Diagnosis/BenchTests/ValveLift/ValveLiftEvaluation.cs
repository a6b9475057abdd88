using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests.ValveLift;

/// <summary>Compares intake with intake and exhaust with exhaust of the other cylinders; alone, with a least lift.</summary>
internal sealed class ValveLiftEvaluation : ITestEvaluation
{
    private const string Share = "lift-share-percent";
    private const string Least = "lift-least-mm";

    /// <inheritdoc/>
    public string Name => "valve-lift";

    /// <inheritdoc/>
    public IEnumerable<Finding> Evaluate(EvaluationInput input)
    {
        var (intake, exhaust) = (new Beside(input, "intakeMm"), new Beside(input, "exhaustMm"));
        foreach (var at in input.Readings.Keys)
        {
            if (intake.At(at) is { } opens && exhaust.At(at) is { } shuts)
            {
                var (i, e) = (Judge(input, intake, at, opens), Judge(input, exhaust, at, shuts));
                yield return input.Finding(at, i.Lost || e.Lost ? "lost" : "good", $"Intake {i.Words}; exhaust {e.Words}.", Math.Min(opens, shuts))
                    with { ByDefaultLimit = !input.Limits.IsOwn(Share) };
            }
        }
    }

    private static (bool Lost, string Words) Judge(EvaluationInput input, Beside all, Place at, double millimetres)
    {
        var least = all.Others(at) is { } others ? others * input.Limits[Share] / 100 : input.Limits[Least];
        var beside = all.OtherCount(at) > 0 ? $"{Words.Percent(input.Limits[Share])} of the others'" : "the least where no other was read,";
        return (millimetres < least, $"{Words.Length(millimetres)}, {(millimetres < least ? "below" : "not below")} {beside} {Words.Length(least)}");
    }
}
