using System.Collections.Immutable;
using ShopDiag.Diagnosis.BenchTests;

namespace ShopDiag.Diagnosis.Workups;

/// <summary>What the readings after a repair come to.</summary>
public enum RepairVerdict
{
    /// <summary>No reading was taken after the repair.</summary>
    NotTaken,

    /// <summary>What was taken is good, but something that showed the fault was not taken again.</summary>
    Incomplete,

    /// <summary>A reading after the repair still shows trouble.</summary>
    StillTrouble,

    /// <summary>Every cylinder that showed the fault pulls, and nothing taken after the repair shows trouble.</summary>
    Good,
}

/// <summary>One side of one test at one place, before and after the repair.</summary>
/// <param name="Test">The test.</param>
/// <param name="Aspect">The side of it.</param>
/// <param name="At">Where.</param>
/// <param name="Before">What it came to before; null when it was not taken then.</param>
/// <param name="After">What it came to after; null when it was not taken again.</param>
/// <param name="TroubleBefore">True when it showed trouble before.</param>
/// <param name="TroubleAfter">True when it shows trouble after.</param>
public sealed record RepairCheckPair(string Test, string Aspect, Place At, Finding? Before, Finding? After, bool TroubleBefore, bool TroubleAfter);

/// <summary>The readings that showed the fault, set against the same readings after the repair.</summary>
/// <param name="Verdict">What they come to.</param>
/// <param name="InWords">The verdict in one or two sentences.</param>
/// <param name="Pairs">What was taken after the repair, and what showed trouble before it, in the order of the tests and then by place.</param>
public sealed record RepairCheck(RepairVerdict Verdict, string InWords, ImmutableArray<RepairCheckPair> Pairs)
{
    /// <summary>Sets the findings of a workup against each other.</summary>
    public static RepairCheck Of(Assessment assessment, Knowledge knowledge)
    {
        ArgumentNullException.ThrowIfNull(assessment);
        ArgumentNullException.ThrowIfNull(knowledge);
        var before = Newest(assessment, Stage.Before);
        var after = Newest(assessment, Stage.After);
        var pairs = assessment.Findings.Select(f => (f.Aspect, f.At)).Distinct()
            .Select(key => Pair(before.GetValueOrDefault(key), after.GetValueOrDefault(key), knowledge))
            .Where(p => p.After is not null || p.TroubleBefore)
            .ToImmutableArray();
        return after.Count == 0
            ? new(RepairVerdict.NotTaken, "No reading was taken after the repair: nothing proves it yet.", pairs)
            : Judged(pairs, knowledge);
    }

    private static RepairCheck Judged(ImmutableArray<RepairCheckPair> pairs, Knowledge knowledge)
    {
        if (pairs.Where(p => p.TroubleAfter).ToArray() is { Length: > 0 } bad)
        {
            return new(RepairVerdict.StillTrouble, $"Still not right after the repair: {Listed(bad, knowledge)}.", pairs);
        }

        var pulling = pairs.Where(p => p.After is { Outcome: not null } a && OutcomeOf(a, knowledge).State == CylinderCondition.Contributing).Select(p => p.At).ToHashSet();
        var open = pairs.Where(p => p.Before is { } b && IsBadCylinder(b, knowledge) && !pulling.Contains(p.At)).Select(p => p.At).Distinct().Order().ToList();
        return open.Count > 0
            ? new(RepairVerdict.Incomplete, $"What was taken again is good, but nothing after the repair shows that {string.Join(" and ", open)} pulls.", pairs)
            : pulling.Count > 0
                ? new(RepairVerdict.Good, "The readings after the repair are good: what showed the fault no longer does.", pairs)
                : new(RepairVerdict.Incomplete, "What was taken is good, but no balance or misfire count after the repair shows the cylinders pulling.", pairs);
    }

    // The assessment holds one finding for an aspect at a place and stage; if a test gives several, the last stands.
    private static Dictionary<(string Aspect, Place At), Finding> Newest(Assessment assessment, Stage stage) =>
        assessment.Findings.Where(f => f.Stage == stage).GroupBy(f => (f.Aspect, f.At)).ToDictionary(g => g.Key, g => g.Last());

    private static RepairCheckPair Pair(Finding? before, Finding? after, Knowledge knowledge)
    {
        var any = (after ?? before)!;
        return new(any.Test, any.Aspect, any.At, before, after, IsTrouble(before, knowledge), IsTrouble(after, knowledge));
    }

    private static bool IsTrouble(Finding? finding, Knowledge knowledge) => finding is { Outcome: not null } && OutcomeOf(finding, knowledge).IsTrouble;

    private static bool IsBadCylinder(Finding finding, Knowledge knowledge) => finding is { Outcome: not null, At.Kind: PlaceKind.Cylinder }
        && OutcomeOf(finding, knowledge).State is CylinderCondition.Dead or CylinderCondition.Weak or CylinderCondition.Misfiring;

    private static AspectOutcome OutcomeOf(Finding finding, Knowledge knowledge) =>
        knowledge.Aspect(finding.Aspect)!.Value.Aspect.Outcomes.First(o => o.Id == finding.Outcome);

    private static string Listed(IEnumerable<RepairCheckPair> pairs, Knowledge knowledge) =>
        string.Join("; ", pairs.Select(p => $"{knowledge.Test(p.Test)?.Title ?? p.Test}, {p.At}").Distinct());
}
