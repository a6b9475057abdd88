using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests.RunnerTemperature;

/// <summary>Compares each exhaust runner with the middle of the others; a difference within their own scatter does not count.</summary>
internal sealed class RunnerTemperatureEvaluation : ITestEvaluation
{
    private const string Cold = "runner-cold-percent";
    private const string Hot = "runner-hot-percent";
    private const double Sigmas = 3;

    /// <inheritdoc/>
    public string Name => "runner-temperature";

    /// <inheritdoc/>
    public IEnumerable<Finding> Evaluate(EvaluationInput input)
    {
        var runners = new Beside(input, "celsius");
        return runners.Values.Select(r => Judge(input, runners, r.At, r.Value)).ToList();
    }

    private static Finding Judge(EvaluationInput input, Beside runners, Place at, double celsius)
    {
        if (runners.OtherCount(at) < 2)
        {
            return input.Finding(at, null, $"{Words.Temperature(celsius)}; with fewer than three runners measured there is nothing to compare it with.", celsius);
        }

        var (others, scatter) = (runners.Others(at)!.Value, Sigmas * runners.OthersSigma(at));
        if (others < 60)
        {
            return input.Finding(at, null, $"{Words.Temperature(celsius)}; the others are at {Words.Temperature(others)}: let the engine idle a minute longer.", celsius);
        }

        var (low, high) = (others * input.Limits[Cold] / 100, others * input.Limits[Hot] / 100);
        var outcome = others - celsius > Math.Max(low, scatter) ? "cold" : celsius - others > Math.Max(high, scatter) ? "hot" : "even";
        var says = $"{Words.Temperature(celsius)}, middle of the others {Words.Temperature(others)}";
        return input.Finding(at, outcome, outcome switch
        {
            "cold" => $"{says}: plainly colder, it burns little.",
            "hot" => $"{says}: plainly hotter, it burns late or lean.",
            _ => $"{says}: like the others.",
        }, celsius) with { ByDefaultLimit = !input.Limits.IsOwn(outcome == "hot" ? Hot : Cold) };
    }
}
