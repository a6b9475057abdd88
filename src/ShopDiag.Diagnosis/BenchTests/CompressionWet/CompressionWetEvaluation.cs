using System.Collections.Immutable;
using ShopDiag.Diagnosis.Statistics;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests.CompressionWet;

/// <summary>Compares the reading with oil with the dry one of the same cylinder: rings rise, valves and gaskets do not (GM compression test).</summary>
internal sealed class CompressionWetEvaluation : ITestEvaluation
{
    private const string RisePercent = "wet-rise-percent";
    private const string RiseKPa = "wet-rise-kpa";

    /// <inheritdoc/>
    public string Name => "compression-wet";

    /// <inheritdoc/>
    public IEnumerable<Finding> Evaluate(EvaluationInput input) =>
        input.Readings
            .Select(r => (At: r.Key, Trials: r.Value.Numbers("kPa")))
            .Where(r => !r.Trials.IsEmpty)
            .Select(r => Judge(input, r.At, r.Trials))
            .ToList();

    private static Finding Judge(EvaluationInput input, Place at, ImmutableArray<double> trials)
    {
        var wet = Robust.Median(trials);
        var dry = input.Earlier.FirstOrDefault(f => f.Aspect == "compression-dry" && f.At == at && f.Stage == input.Stage);
        return dry switch
        {
            null or { Measure: null } => input.Finding(at, null, $"{Words.Pressure(wet)} with oil says nothing without the dry reading: take that first.", wet),
            { Outcome: "good" } => input.Finding(at, null, $"{Words.Pressure(wet)} with oil; dry it was {Words.Pressure(dry.Measure.Value)}, which is good, and a good cylinder rises a little too. It means something on a low cylinder only.", wet),
            { Outcome: null } => input.Finding(at, null, $"{Words.Pressure(wet)} with oil; the dry trials disagree: take the dry reading again first.", wet),
            _ => Compare(input, at, trials, wet, dry.Measure.Value),
        };
    }

    private static Finding Compare(EvaluationInput input, Place at, ImmutableArray<double> trials, double wet, double dry)
    {
        var least = Math.Max(dry * input.Limits[RisePercent] / 100, input.Limits[RiseKPa]);
        bool Rises(double kPa) => kPa - dry >= least;
        if (Rises(trials[0]) != Rises(trials[^1]) && Trials.ApartPercent(trials) > input.Limits["compression-trials-percent"])
        {
            return input.Finding(at, null, $"With oil the trials lie between {Words.Pressure(trials[0])} and {Words.Pressure(trials[^1])}; dry it was {Words.Pressure(dry)}. Oil drains: put in the same amount once more and take it again.", wet)
                with { TrialsDisagree = true };
        }

        var limit = dry * input.Limits[RisePercent] / 100 >= input.Limits[RiseKPa] ? RisePercent : RiseKPa;
        var rule = limit == RisePercent
            ? $"{Words.Percent(input.Limits[RisePercent])} ({input.Whose(RisePercent)})"
            : $"{Words.Pressure(least)}, the least that a gauge shows reliably";
        var change = dry > 0 ? $"{Change(100 * (wet - dry) / dry)} on {Words.Pressure(dry)} dry" : "nothing dry";
        var because = Rises(wet)
            ? $"{Words.Pressure(wet)} with oil, {change}: it rises by at least {rule}, so the leak is past the rings."
            : $"{Words.Pressure(wet)} with oil, {change}: it does not rise by {rule}, so oil does not reach the leak: a valve or a gasket.";
        return input.Finding(at, Rises(wet) ? "rises" : "same", because, wet) with { ByDefaultLimit = !input.Limits.IsOwn(limit) };
    }

    private static string Change(double percent) => (percent >= 0 ? "+" : "") + Words.Percent(percent, 1);
}
