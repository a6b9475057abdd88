using System.Collections.Immutable;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.BenchTests.RoadCheck;

namespace ShopDiag.Diagnosis.Workups;

/// <summary>What the readings after a repair come to.</summary>
public enum RepairVerdict
{
    /// <summary>No reading was taken after the repair.</summary>
    NotTaken,

    /// <summary>What was taken is good, but it does not prove the repair: a cylinder that showed the fault is not shown pulling, or nothing was taken that would have shown the fault.</summary>
    Incomplete,

    /// <summary>A reading after the repair still shows trouble.</summary>
    StillTrouble,

    /// <summary>Every cylinder that showed the fault pulls by balance or misfire counts, and nothing taken after the repair shows trouble. What else showed it, can be read with nothing taken off and was not taken again is named.</summary>
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
public sealed record RepairCheckPair(string Test, string Aspect, Place At, Finding? Before, Finding? After, bool TroubleBefore, bool TroubleAfter)
{
    /// <summary>True when it was taken again and the numbers could tell.</summary>
    public bool IsSettled => After?.Outcome is not null;
}

/// <summary>The readings that showed the fault, set against the same readings after the repair.</summary>
/// <param name="Verdict">What they come to.</param>
/// <param name="InWords">The verdict in one or two sentences.</param>
/// <param name="Pairs">What was taken after the repair, and what showed trouble before it, in the order of the tests and then by place.</param>
public sealed record RepairCheck(RepairVerdict Verdict, string InWords, ImmutableArray<RepairCheckPair> Pairs)
{
    /// <summary>True when it came to an answer, good or not; false when nothing was taken or what was taken proves nothing.</summary>
    public bool IsDone => Verdict is RepairVerdict.Good or RepairVerdict.StillTrouble;

    /// <summary>Sets the readings of a workup against each other.</summary>
    public static RepairCheck Of(Workup workup, Knowledge knowledge)
    {
        ArgumentNullException.ThrowIfNull(workup);
        ArgumentNullException.ThrowIfNull(knowledge);
        var readAgain = ReadingJudge.Counting(workup, knowledge, Stage.After).Select(r => r.Test).ToHashSet(StringComparer.Ordinal);
        var before = Newest(ReadingJudge.Judge(workup, knowledge, Stage.Before));
        var after = Newest(ReadingJudge.Judge(workup, knowledge, Stage.After));
        var pairs = before.Keys.Union(after.Keys)
            .Select(key => Pair(before.GetValueOrDefault(key), after.GetValueOrDefault(key), readAgain, knowledge))
            .Where(p => p.After is not null || p.TroubleBefore)
            .ToImmutableArray();
        var (verdict, inWords) = readAgain.Count == 0
            ? (RepairVerdict.NotTaken, "No reading was taken after the repair: nothing proves it yet.")
            : Judged(pairs, knowledge);
        return new(verdict, inWords, pairs);
    }

    private static (RepairVerdict Verdict, string InWords) Judged(ImmutableArray<RepairCheckPair> pairs, Knowledge knowledge)
    {
        if (pairs.Where(p => p.TroubleAfter).ToArray() is { Length: > 0 } bad)
        {
            return (RepairVerdict.StillTrouble, $"Still not right after the repair: {Listed(bad, knowledge)}.");
        }

        var pulling = pairs.Where(p => Pulls(p.After, knowledge)).Select(p => p.At).ToHashSet();
        var open = pairs.Where(p => p.Before is { } b && IsBadCylinder(b, knowledge) && !pulling.Contains(p.At)).Select(p => p.At).Distinct().Order().ToList();
        if (open.Count > 0)
        {
            return (RepairVerdict.Incomplete, $"What was taken again is good, but nothing after the repair shows that {string.Join(" and ", open)} {(open.Count == 1 ? "pulls" : "pull")}.");
        }

        if (pulling.Count == 0)
        {
            return (RepairVerdict.Incomplete, "What was taken is good, but no balance or misfire count after the repair shows the cylinders pulling.");
        }

        var missing = Listed(pairs.Where(p => p.TroubleBefore && !p.IsSettled && CanShowAgain(p, knowledge)), knowledge);
        return missing.Length == 0 ? (RepairVerdict.Good, "The readings after the repair are good: what showed the fault no longer does.")
            : pairs.Any(p => ShowsMending(p, knowledge)) ? (RepairVerdict.Good, $"The readings after the repair are good. This showed the trouble before and was not taken again: {missing}.")
            : (RepairVerdict.Incomplete, $"What was taken again is good, but it was good before the repair too. Take again what showed the trouble: {missing}.");
    }

    // A balance that was good while it misfired proves nothing by being good again, nor do codes that were only cleared.
    private static bool ShowsMending(RepairCheckPair pair, Knowledge knowledge) =>
        pair.IsSettled && ((pair.TroubleBefore && CanShowAgain(pair, knowledge) && knowledge.Test(pair.Test)?.CodesField is null) || (pair.Before?.Outcome is null && Pulls(pair.After, knowledge)));

    // What is read only with parts off again (a swap, a look at the plug) is answered by the cylinder pulling; the pairs tell of it all the same.
    // What the customer said is tried by a drive where idling in the shop does not bring it about.
    private static bool CanShowAgain(RepairCheckPair pair, Knowledge knowledge) =>
        knowledge.Test(pair.Test) is { Access: Access.None } test
        && (pair.Before is not { Said: true } || test.ConditionsField?.Choices.Any(c => c.NeedsDrive && RoadCheckEvaluation.AspectOf(c) == pair.Aspect) == true);

    // There is one finding for an aspect at a place and stage; if a test gives several, the last stands.
    private static Dictionary<(string Aspect, Place At), Finding> Newest(ImmutableArray<Finding> findings) =>
        findings.GroupBy(f => (f.Aspect, f.At)).ToDictionary(g => g.Key, g => g.Last());

    private static RepairCheckPair Pair(Finding? before, Finding? after, HashSet<string> readAgain, Knowledge knowledge)
    {
        var any = (after ?? before)!;
        var trouble = IsTrouble(before, knowledge);
        after ??= trouble && readAgain.Contains(any.Test) && knowledge.Test(any.Test)?.CodesField is not null ? Gone(before!, knowledge) : null;
        return new(any.Test, any.Aspect, any.At, before, after, trouble, IsTrouble(after, knowledge));
    }

    // Where no code is stored the evaluation clears no cylinder, for a misfire need not set one. A code that was there and is no longer is gone all the same.
    private static Finding Gone(Finding code, Knowledge knowledge) => code with
    {
        Stage = Stage.After,
        Outcome = knowledge.Aspect(code.Aspect)!.Value.Aspect.Outcomes.First(o => o.Good).Id,
        Because = "Read again after the repair: the code is no longer stored.",
    };

    private static bool IsTrouble(Finding? finding, Knowledge knowledge) => finding is { Outcome: not null } && OutcomeOf(finding, knowledge).IsTrouble;

    private static bool IsBadCylinder(Finding finding, Knowledge knowledge) => finding is { Outcome: not null, At.Kind: PlaceKind.Cylinder }
        && OutcomeOf(finding, knowledge).State is CylinderCondition.Dead or CylinderCondition.Weak or CylinderCondition.Misfiring;

    private static AspectOutcome OutcomeOf(Finding finding, Knowledge knowledge) =>
        knowledge.Aspect(finding.Aspect)!.Value.Aspect.Outcomes.First(o => o.Id == finding.Outcome);

    private static bool Pulls(Finding? finding, Knowledge knowledge) => finding is { Outcome: not null } && OutcomeOf(finding, knowledge).State == CylinderCondition.Contributing;

    // The place says which one; of the whole engine the word says more: "Road check (misfires cold, misfires under load)".
    private static string Listed(IEnumerable<RepairCheckPair> pairs, Knowledge knowledge) =>
        string.Join("; ", pairs.GroupBy(p => (p.Test, p.At)).Select(g =>
        {
            var title = knowledge.Test(g.Key.Test)?.Title ?? g.Key.Test;
            var unsettled = g.Any(p => p.After is { Outcome: null }) ? " (cannot tell)" : "";
            return g.Key.At == Place.Engine
                ? $"{title} ({string.Join(", ", g.Select(p => OutcomeOf(p.TroubleAfter ? p.After! : p.Before!, knowledge).Word))}){unsettled}"
                : $"{title}, {g.Key.At}{unsettled}";
        }));
}
