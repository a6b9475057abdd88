using System.Collections.Immutable;
using ShopDiag.Diagnosis.Statistics;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests.LeakDown;

/// <summary>
/// Compares the leakage with the limit, where the tester's restrictor is known as the reference tester would read it, and names the way out by where the air is heard. Air in the coolant or in the next
/// cylinder counts at any percentage: a sound engine has no way there, while every engine loses a little past rings and valves.
/// </summary>
internal sealed class LeakDownEvaluation : ITestEvaluation
{
    private const string Limit = "leak-down-max-percent";

    /// <inheritdoc/>
    public string Name => "leak-down";

    /// <inheritdoc/>
    public IEnumerable<Finding> Evaluate(EvaluationInput input)
    {
        var tests = input.Readings.ToDictionary(r => r.Key, r => r.Value.Select(t => TesterReading.From(t, input.Shop.AltitudeMetres)).OfType<TesterReading>().ToImmutableArray());
        var mixed = tests.Values.SelectMany(t => t).Select(t => t.RestrictorMm is null).Distinct().Count() > 1
            ? " Some readings do not name the tester's restrictor: their percentages cannot be compared with the others."
            : "";
        foreach (var (at, trials) in input.Readings)
        {
            var read = tests[at];
            if (!read.IsEmpty)
            {
                var finding = Judge(input, at, [.. read.Select(t => t.Judged).Order()], [.. trials.Words("hear").Where(h => h != "none")]);
                yield return finding with { Because = finding.Because + Holes(read) + mixed };
            }
        }
    }

    private static string Holes(ImmutableArray<TesterReading> trials) =>
        string.Concat(trials.Select(t => t.InWords).Where(w => w.Length > 0).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal).Select(w => " " + w));

    private static Finding Judge(EvaluationInput input, Place at, ImmutableArray<double> percents, ImmutableArray<string> heard)
    {
        var limit = input.Limits[Limit];
        var percent = Robust.Median(percents);
        var rule = $"{Words.Percent(limit)} ({input.Whose(Limit)})";
        var apart = percents[^1] - percents[0] > input.Limits["leak-down-trials-percent"];
        if (apart && percents[0] <= limit && percents[^1] > limit)
        {
            return Found(null, $"The trials lie between {Words.Percent(percents[0])} and {Words.Percent(percents[^1])}, on both sides of {rule}: see that the piston stands at top dead centre and take it again.");
        }

        if (heard.FirstOrDefault(h => h is "coolant" or "neighbour") is { } noWay && heard.Length == 1)
        {
            return Found("leaks-" + noWay, $"{Words.Percent(percent)} leaks, and air comes out {Where(noWay)}, where a sound engine has no way out at any percentage.");
        }

        if (percent <= limit)
        {
            return Found("tight", $"{Words.Percent(percent)} leaks: not above {rule}.");
        }

        return heard.Length switch
        {
            1 => Found("leaks-" + heard[0], $"{Words.Percent(percent)} leaks, above {rule}, and the air comes out {Where(heard[0])}."),
            0 => Found(null, $"{Words.Percent(percent)} leaks, above {rule}, but it is not known where the air comes out: see that the piston stands at top dead centre, then listen at intake, tailpipe, oil filler and the next plug holes, and look into the coolant."),
            _ => Found(null, $"{Words.Percent(percent)} leaks, above {rule}, and the trials name different ways out ({string.Join("; ", heard.Select(Where))}): listen again."),
        };

        Finding Found(string? outcome, string because) => input.Finding(at, outcome, because, percent) with
        {
            TrialsDisagree = apart || heard.Length > 1, ByDefaultLimit = !input.Limits.IsOwn(Limit),
        };
    }

    private static string Where(string heard) => heard switch
    {
        "intake" => "at the intake",
        "exhaust" => "at the exhaust",
        "crankcase" => "at the oil filler or dipstick",
        "coolant" => "in the coolant",
        "neighbour" => "at the next plug hole",
        _ => throw new InvalidOperationException($"Unknown way out {heard}."),
    };
}
