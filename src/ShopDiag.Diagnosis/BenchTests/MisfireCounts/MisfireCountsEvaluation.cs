using ShopDiag.Diagnosis.Statistics;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests.MisfireCounts;

/// <summary>
/// Compares each cylinder's misfires with the limit's share of its own firings; a count above it is believed only when
/// chance alone would hardly give it. Trials are added up.
/// </summary>
internal sealed class MisfireCountsEvaluation : ITestEvaluation
{
    private const string Limit = "misfire-cylinder-percent";

    /// <inheritdoc/>
    public string Name => "misfire-counts";

    /// <inheritdoc/>
    public IEnumerable<Finding> Evaluate(EvaluationInput input)
    {
        var counts = input.Readings.Select(r => Count.Of(r.Key, [.. r.Value])).ToList();
        var engine = EnginePercent(counts, input.Engine.CylinderCount);
        return [.. counts.Select(c => c.Revolutions <= 0 ? NoRevolutions(input, c) : BesideWorse(input, c, counts) ?? Judge(input, c, engine))];
    }

    private static Finding NoRevolutions(EvaluationInput input, Count count) => input.Finding(count.At, null,
        $"{Words.Number(count.Misfires)} misfires over no revolutions: note how many revolutions were counted and take it again.");

    // The computer lays some of the misses of a cylinder that hardly fires to others, mostly to the one that fires next.
    private static Finding? BesideWorse(EvaluationInput input, Count count, IEnumerable<Count> all)
    {
        var worst = all.Where(c => c.Revolutions > 0).MaxBy(c => c.Percent)!;
        return worst.Percent < input.Limits["misfire-worse-percent"] || count.Percent * input.Limits["misfire-worse-ratio"] >= worst.Percent || count.Percent <= input.Limits[Limit]
            ? null
            : input.Finding(count.At, null, $"{Words.Number(count.Misfires)} misfires in {Words.Number(count.Firings)} firings, beside {Words.Percent(worst.Percent, 0)} of {worst.At}: "
                + "so few may be that cylinder's misses, laid to this one. Count again when it fires.", count.Percent);
    }

    private static Finding Judge(EvaluationInput input, Count count, double enginePercent)
    {
        var limit = input.Limits[Limit];
        var percent = count.Percent;
        var says = $"{Words.Number(count.Misfires)} misfires in {Words.Number(count.Firings)} firings of this cylinder ({Words.Number(count.Revolutions)} revolutions), {Words.Percent(percent, 2)}{Between(input, count)}";
        var rule = $"{Words.Percent(limit, 2)} ({input.Whose(Limit)})";
        Finding Found(string? outcome, string because) =>
            input.Finding(count.At, outcome, because, percent) with { ByDefaultLimit = outcome is not null && !input.Limits.IsOwn(Limit) };

        if (percent <= limit)
        {
            return count.Revolutions < input.Limits["misfire-least-rev"]
                ? Found(null, $"{says}: too short a run to call it clean. Count over {Words.Number(input.Limits["misfire-least-rev"])} revolutions or more.")
                : Found("clean", $"{says}: not above {rule}.");
        }

        var chance = 100 * Poisson.AtLeast((long)Math.Ceiling(count.Misfires), count.Firings * limit / 100);
        return chance <= input.Limits["misfire-chance-percent"]
            ? Found("misfiring", $"{says}: above {rule}, and chance would hardly give so many.{Impossible(count)}{Catalyst(input, enginePercent)}")
            : Found(null, $"{says}: above {rule}, but so few that chance gives as many in {Words.Percent(chance)} of such runs. Count over more revolutions.");
    }

    /// <summary>Between which shares the true one lies, as far as a count this small can tell.</summary>
    private static string Between(EvaluationInput input, Count count)
    {
        var chance = input.Limits["misfire-chance-percent"];
        var (low, high) = Poisson.Between((long)Math.Ceiling(count.Misfires), chance / 100);
        double Share(double misfires) => Math.Min(100, MisfireRate.PercentOfOwnFirings(misfires, count.Revolutions));
        return $" ({Words.Number(Share(low), 1)} to {Words.Percent(Share(high), 1)} with {Words.Percent(100 - chance)} confidence)";
    }

    private static string Impossible(Count count) => count.Misfires > count.Firings
        ? " More misfires than firings: the counter has run longer than stated."
        : "";

    private static string Catalyst(EvaluationInput input, double enginePercent) => enginePercent > input.Limits["misfire-catalyst-percent"]
        ? $" Over all cylinders {Words.Percent(enginePercent, 1)} of the firings fail: above {Words.Percent(input.Limits["misfire-catalyst-percent"], 1)} unburnt fuel can ruin the catalyst, so keep the engine running short."
        : "";

    /// <summary>Misfires of all cylinders as a share of all firings; cylinders that were not counted add nothing.</summary>
    private static double EnginePercent(IEnumerable<Count> counts, int cylinders) => counts
        .Where(c => c.Revolutions > 0)
        .Select(c => Math.Min(100.0 / cylinders, MisfireRate.PercentOfAllFirings(c.Misfires, c.Revolutions, cylinders)))
        .Order()
        .Sum();

    /// <summary>The counts of one cylinder over all trials.</summary>
    private sealed record Count(Place At, double Misfires, double Revolutions)
    {
        public double Firings => Revolutions / 2;

        /// <summary>Misfires as a share of its own firings, in percent.</summary>
        public double Percent => Math.Min(100, MisfireRate.PercentOfOwnFirings(Misfires, Revolutions));

        public static Count Of(Place at, IReadOnlyCollection<Reading> trials) =>
            new(at, trials.Sum(t => t.Value.Number("misfires") ?? 0), trials.Sum(t => t.Value.Number("revolutions") ?? 0));
    }
}
