using System.Collections.Immutable;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.Diagnosis.Workups;

/// <summary>What the readings after a repair say of it.</summary>
internal static class RepairOutcome
{
    /// <summary>
    /// True when the readings after the repair show every cylinder that it touched pulling, and nothing wrong anywhere. Without a proven cause
    /// nothing says which cylinders those are: then some cylinder must be shown pulling.
    /// </summary>
    public static bool IsGood(Engine engine, Look before, ImmutableArray<Finding> after, Knowledge knowledge)
    {
        var judged = after.Where(f => f.Outcome is not null).Select(f => (f.At, Outcome: OutcomeOf(f, knowledge))).ToArray();
        var pulling = judged.Where(j => j.Outcome.State == CylinderCondition.Contributing).Select(j => j.At).ToHashSet();
        return pulling.Count > 0 && Touched(engine, before).All(c => pulling.Contains(Place.Cylinder(c))) && !ShowsTrouble(after, knowledge);
    }

    /// <summary>True when a reading after the repair shows something wrong.</summary>
    public static bool ShowsTrouble(ImmutableArray<Finding> after, Knowledge knowledge) =>
        after.Any(f => f.Outcome is not null && OutcomeOf(f, knowledge).IsTrouble);

    /// <summary>The findings that still speak: all from after the repair, and from before it those at cylinders that the repair did not touch.</summary>
    public static ImmutableArray<Finding> StillCounting(Engine engine, Look before, ImmutableArray<Finding> after)
    {
        var touched = Touched(engine, before).ToHashSet();
        var retaken = after.Select(f => (f.Aspect, f.At)).ToHashSet();
        var untouched = before.Findings.Where(f =>
            f.At.Kind == PlaceKind.Cylinder && !touched.Contains(f.At.First) && !retaken.Contains((f.Aspect, f.At)));
        return [.. untouched, .. after];
    }

    /// <summary>
    /// The drive that is left once all that was read in the shop is good: where the trouble was felt under a condition that idling does not bring about, the repair has been proved only when it is driven
    /// so. Empty where nobody named such a condition or it has been driven.
    /// </summary>
    public static ImmutableArray<NextStepAdvice> Drive(Workup workup, Knowledge knowledge)
    {
        if (knowledge.Tests.FirstOrDefault(t => t.ConditionsField is not null) is not { ConditionsField: { } field } test
            || workup.Readings.Any(r => r.Test == test.Id && r.Stage == Stage.After)
            || workup.IsBarred(test, Place.Engine))
        {
            return [];
        }

        var named = workup.Concern.When.Concat(workup.Readings.Where(r => r.Test == test.Id).SelectMany(r => r.Value.Texts(field.Name))).ToHashSet(StringComparer.Ordinal);
        var driven = field.Choices.Where(c => c.NeedsDrive && named.Contains(c.Id)).Select(c => char.ToLowerInvariant(c.Label[0]) + c.Label[1..]).ToArray();
        return driven.Length == 0 ? [] :
        [
            new()
            {
                Test = test.Id, At = Place.Engine, Stage = Stage.After, Minutes = test.FirstMinutesOn(workup.Engine),
                Because = $"The trouble was felt: {string.Join(", ", driven)}. Drive it that way before the car goes back.", Cautions = test.Cautions,
            },
        ];
    }

    private static IEnumerable<int> Touched(Engine engine, Look before) => before.Proven.SelectMany(p => engine.CylindersAt(p.At));

    private static AspectOutcome OutcomeOf(Finding finding, Knowledge knowledge) =>
        knowledge.Aspect(finding.Aspect)!.Value.Aspect.Outcomes.First(o => o.Id == finding.Outcome);
}
