using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests.CompressionRunning;

/// <summary>Compares idle and snap with the other cylinders where any were read, else with the rule of thumb. Low at idle is named first: the cylinder does not fill or leaks.</summary>
internal sealed class CompressionRunningEvaluation : ITestEvaluation
{
    private const string Share = "running-share-percent";

    /// <inheritdoc/>
    public string Name => "compression-running";

    /// <inheritdoc/>
    public IEnumerable<Finding> Evaluate(EvaluationInput input)
    {
        var (idle, snap) = (new Beside(input, "idleKPa"), new Beside(input, "snapKPa"));
        foreach (var (at, value) in idle.Values)
        {
            var atIdle = Judge(input, idle, at, value, "running-idle-least-kpa");
            var atSnap = snap.At(at) is { } s ? Judge(input, snap, at, s, "running-snap-least-kpa") : (Low: false, Words: "not read", General: false);
            var outcome = atIdle.Low ? "low-idle" : atSnap.Low ? "low-snap" : "good";
            yield return input.Finding(at, outcome, $"At idle {atIdle.Words}; at a snap {atSnap.Words}.", value) with { ByDefaultLimit = atIdle.General };
        }
    }

    private static (bool Low, string Words, bool General) Judge(EvaluationInput input, Beside all, Place at, double kPa, string thumb)
    {
        if (all.Others(at) is { } others)
        {
            var beside = others * input.Limits[Share] / 100;
            return (kPa < beside, $"{Words.Pressure(kPa)}, {(kPa < beside ? "below" : "not below")} {Words.Percent(input.Limits[Share])} of the others' {Words.Pressure(others)} ({input.Whose(Share)})", !input.Limits.IsOwn(Share));
        }

        var least = CompressionDry.CompressionRules.AtAltitude(input.Limits[thumb], input.Shop.AltitudeMetres);
        return (kPa < least, $"{Words.Pressure(kPa)}, {(kPa < least ? "below" : "not below")} {Words.Pressure(least)} ({input.Whose(thumb)}, no other cylinder read)", !input.Limits.IsOwn(thumb));
    }
}
