using System.Collections.Immutable;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.Diagnosis.Workups;

/// <summary>What the readings after a repair say of it.</summary>
internal static class RepairOutcome
{
    /// <summary>True when at least one reading after the repair shows a cylinder pulling and none shows anything wrong.</summary>
    public static bool IsGood(ImmutableArray<Finding> after, Knowledge knowledge)
    {
        var outcomes = after.Where(f => f.Outcome is not null)
            .Select(f => knowledge.Aspect(f.Aspect)!.Value.Aspect.Outcomes.First(o => o.Id == f.Outcome))
            .ToArray();
        return outcomes.Any(o => o.State == CylinderCondition.Contributing) && outcomes.All(o => o.Good);
    }

    /// <summary>The findings that still speak: all from after the repair, and from before it those at cylinders that the repair did not touch.</summary>
    public static ImmutableArray<Finding> StillCounting(Engine engine, Look before, ImmutableArray<Finding> after)
    {
        var touched = before.Proven.SelectMany(p => engine.CylindersAt(p.At)).ToHashSet();
        var retaken = after.Select(f => (f.Aspect, f.At)).ToHashSet();
        var untouched = before.Findings.Where(f =>
            f.At.Kind == PlaceKind.Cylinder && !touched.Contains(f.At.First) && !retaken.Contains((f.Aspect, f.At)));
        return [.. untouched, .. after];
    }
}
