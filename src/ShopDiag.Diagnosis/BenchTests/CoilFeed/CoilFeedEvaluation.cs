using ShopDiag.Diagnosis.Statistics;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests.CoilFeed;

/// <summary>Compares the coil's feed voltage with the limits.</summary>
internal sealed class CoilFeedEvaluation : ITestEvaluation
{
    private const string Good = "coil-feed-good-v";
    private const string None = "coil-feed-none-v";

    /// <inheritdoc/>
    public string Name => "coil-feed";

    /// <inheritdoc/>
    public IEnumerable<Finding> Evaluate(EvaluationInput input)
    {
        foreach (var (at, trials) in input.Readings)
        {
            var volts = trials.Numbers("volts");
            if (!volts.IsEmpty)
            {
                yield return Judge(input, at, Robust.Median(volts), volts[0], volts[^1]);
            }
        }
    }

    private static Finding Judge(EvaluationInput input, Place at, double volts, double lowest, double highest)
    {
        var (good, none) = (input.Limits[Good], input.Limits[None]);
        string Outcome(double v) => v >= good ? "good" : v < none ? "none" : "low";
        if (Outcome(lowest) != Outcome(highest))
        {
            return input.Finding(at, null, $"The trials lie between {Words.Volts(lowest)} and {Words.Volts(highest)}, on both sides of a limit: find the joint that comes and goes, or take it again under load.", volts)
                with { TrialsDisagree = true };
        }

        var limit = Outcome(volts) == "none" ? None : Good;
        var because = Outcome(volts) switch
        {
            "good" => $"{Words.Volts(volts)}, at or above {Words.Volts(good)} ({input.Whose(Good)}).",
            "low" => $"{Words.Volts(volts)}, below {Words.Volts(good)} ({input.Whose(Good)}).",
            _ => $"{Words.Volts(volts)}, below {Words.Volts(none)} ({input.Whose(None)}): as good as nothing.",
        };
        return input.Finding(at, Outcome(volts), because, volts) with { ByDefaultLimit = !input.Limits.IsOwn(limit) };
    }
}
