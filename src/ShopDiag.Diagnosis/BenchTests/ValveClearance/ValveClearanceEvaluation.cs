using System.Collections.Immutable;
using ShopDiag.Diagnosis.Statistics;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests.ValveClearance;

/// <summary>
/// Compares both clearances with the maker's figures, or the general ones. Tight is named before loose: it burns the valve. Where all cylinders lie outside the
/// general figures alike, the engine probably has others, and it says so.
/// </summary>
internal sealed class ValveClearanceEvaluation : ITestEvaluation
{
    /// <inheritdoc/>
    public string Name => "valve-clearance";

    /// <inheritdoc/>
    public IEnumerable<Finding> Evaluate(EvaluationInput input)
    {
        ClearanceJudge[] valves = [new(input, "intake"), new(input, "exhaust")];
        foreach (var (at, trials) in input.Readings)
        {
            ClearanceJudgement[] judged = [.. valves.Select(v => v.Judge(trials)).OfType<ClearanceJudgement>()];
            if (judged.Length > 0)
            {
                yield return Judge(input, at, judged);
            }
        }
    }

    private static readonly string?[] WorstFirst = ["tight", "loose", null, "within"];

    private static Finding Judge(EvaluationInput input, Place at, ClearanceJudgement[] judged)
    {
        var worst = judged.MinBy(j => Array.IndexOf(WorstFirst, j.Outcome))!;
        return input.Finding(at, worst.Outcome, string.Join(" ", judged.Select(j => j.Words)), worst.Millimetres) with
        {
            ByDefaultLimit = judged.Any(j => j.General), TrialsDisagree = judged.Any(j => j.TrialsApart),
        };
    }
}

/// <summary>What one valve came to; a null outcome cannot be told.</summary>
internal sealed record ClearanceJudgement(double Millimetres, string? Outcome, string Words, bool General, bool TrialsApart = false);

/// <summary>Judges the intake valves, or the exhaust valves, of one engine.</summary>
internal sealed class ClearanceJudge(EvaluationInput input, string valve)
{
    private const string NoneAtAll = "clearance-none-mm";
    private const string Alike = "clearance-alike-mm";
    private const string Warmth = "clearance-warm-mm";

    /// <summary>Fewest cylinders that can show that an engine is built to other figures.</summary>
    private const int Several = 3;

    private readonly Beside _all = new(input, $"{valve}Mm");

    private string Least => $"{valve}-clearance-min-mm";

    private string Most => $"{valve}-clearance-max-mm";

    private string Name => valve == "intake" ? "Intake" : "Exhaust";

    private bool General => !input.Limits.IsOwn(Least) || !input.Limits.IsOwn(Most);

    /// <summary>What the valve came to over the trials at a cylinder, or null where it was not read.</summary>
    public ClearanceJudgement? Judge(ImmutableArray<Reading> trials)
    {
        var all = trials.Numbers($"{valve}Mm");
        if (all.IsEmpty)
        {
            return null;
        }

        var clearance = Robust.Median(all);
        var outcome = Outcome(clearance);
        var says = $"{Name} {Words.Length(clearance)}, {outcome}: {Words.Length(input.Limits[Least])} to {Words.Length(input.Limits[Most])} ({input.Whose(Least)})";
        if (Outcome(all[0]) != Outcome(all[^1]) && all[^1] - all[0] > input.Limits[Alike])
        {
            return new(clearance, null, $"{Name}: the trials lie between {Words.Length(all[0])} and {Words.Length(all[^1])}. See that the lobe points away from the valve and measure again.", General, true);
        }

        return General && WhyNot(clearance, outcome, trials) is { } why
            ? new(clearance, null, $"{Name} {Words.Length(clearance)}. {why}", General)
            : new(clearance, outcome, says + ".", General);
    }

    /// <summary>Why a general limit cannot judge this clearance, or null when it can.</summary>
    private string? WhyNot(double clearance, string outcome, ImmutableArray<Reading> trials)
    {
        var warmth = input.Limits[Warmth];
        if (trials.Any(t => t.Warm is true) && clearance > input.Limits[NoneAtAll] && (Outcome(clearance - warmth) != outcome || Outcome(clearance + warmth) != outcome))
        {
            return $"On a warm engine this is too close to the general limits, which are for a cold one ({Words.Length(input.Limits[Least])} to {Words.Length(input.Limits[Most])}): measure cold, or enter the maker's figures with the engine.";
        }

        double[] values = [.. _all.Values.Select(v => v.Value)];
        return outcome != "within" && values.Length >= Several && values.All(v => Outcome(v) == outcome && v > input.Limits[NoneAtAll]) && values.Max() - values.Min() <= input.Limits[Alike]
            ? $"All cylinders lie outside the general limits alike ({Words.Length(input.Limits[Least])} to {Words.Length(input.Limits[Most])}): this engine is probably built to others. Enter the maker's figures with the engine."
            : null;
    }

    private string Outcome(double clearance) =>
        clearance < input.Limits[Least] ? "tight" : clearance > input.Limits[Most] ? "loose" : "within";
}
