using System.Collections.Immutable;
using ShopDiag.Diagnosis.Statistics;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests.FuelTrims;

/// <summary>
/// Adds short and long term (the sum, not the product of the factors) at idle and at 2500 rpm and compares both with the limit.
/// Positive: the computer adds fuel because it sees a lean mixture.
/// </summary>
internal sealed class FuelTrimsEvaluation : ITestEvaluation
{
    private const string Limit = "fuel-trim-percent";

    /// <inheritdoc/>
    public string Name => "fuel-trims";

    /// <inheritdoc/>
    public IEnumerable<Finding> Evaluate(EvaluationInput input)
    {
        foreach (var (at, trials) in input.Readings)
        {
            if (Total(trials, "idle") is { } idle)
            {
                yield return Judge(input, at, idle, Total(trials, "2500rpm"));
            }
        }
    }

    /// <summary>Median over the trials of short plus long term; null where none has both.</summary>
    private static double? Total(ImmutableArray<Reading> trials, string at)
    {
        double[] totals = [.. trials
            .Select(t => t.Value.Number($"{at}.shortPercent") + t.Value.Number($"{at}.longPercent"))
            .OfType<double>()];
        return totals.Length == 0 ? null : Robust.Median(totals);
    }

    private static Finding Judge(EvaluationInput input, Place at, double idle, double? speed)
    {
        var limit = input.Limits[Limit];
        var rule = $"limit {Words.Percent(limit, 1)} either way, {input.Whose(Limit)}";
        var says = $"Short plus long term {Signed(idle)} at idle" + (speed is { } s ? $" and {Signed(s)} at 2500 rpm" : "");
        var (outcome, because) = (Side(idle, limit), speed is { } v ? Side(v, limit) : (int?)null) switch
        {
            (1, -1) or (-1, 1) => (null, "lean at one speed and rich at the other is not one fault. Take both again with the engine warm; if it stays so, suspect the air-flow signal."),
            (-1, -1) => ("rich", "rich at idle and at speed."),
            (-1, _) => ("rich", "rich at idle."),
            (_, -1) => ("rich", "rich at speed."),
            (1, 1) => ("lean-everywhere", "lean at idle and at speed alike."),
            (1, 0) => ("lean-at-idle", "lean at idle only, as false air makes it."),
            (1, null) => (null, "lean at idle; whether false air or missing fuel shows only at speed. Take it at 2500 rpm too."),
            (0, 1) => ("lean-under-load", "lean at speed only, as missing fuel makes it."),
            (0, null) => ("normal", "within the limit at idle; not looked at under load."),
            _ => ((string?)"normal", "within the limit at both."),
        };
        return input.Finding(at, outcome, $"{says} ({rule}): {because}", speed is { } w && Math.Abs(w) > Math.Abs(idle) ? w : idle)
            with { ByDefaultLimit = !input.Limits.IsOwn(Limit) };
    }

    private static int Side(double total, double limit) => total > limit ? 1 : total < -limit ? -1 : 0;

    private static string Signed(double percent) => (percent > 0 ? "+" : "") + Words.Percent(percent, 1);
}
