using System.Collections.Immutable;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.Diagnosis.Workups;

/// <summary>What the findings say of how each cylinder pulls.</summary>
internal static class CylinderStates
{
    /// <summary>
    /// One state a cylinder, in number order. Where tests differ the worse state is shown, since a misfire that one test missed is still a
    /// misfire; a measurement that cannot tell is shown only where nothing else speaks.
    /// </summary>
    public static ImmutableArray<CylinderState> Of(Engine engine, ImmutableArray<Finding> findings, Knowledge knowledge) =>
        [.. engine.Cylinders.Select(c => Of(c, findings, knowledge))];

    private static CylinderState Of(int cylinder, ImmutableArray<Finding> findings, Knowledge knowledge)
    {
        var speaking = findings
            .Where(f => f.At == Place.Cylinder(cylinder))
            .Select(f => (Finding: f, State: StateOf(f, knowledge)))
            .Where(p => p.State is not null)
            .OrderByDescending(p => Rank(p.State!.Value))
            .FirstOrDefault();
        return speaking.State is { } state
            ? new(cylinder, state, speaking.Finding.Because)
            : new(cylinder, CylinderCondition.Unknown, "Not measured yet.");
    }

    private static CylinderCondition? StateOf(Finding finding, Knowledge knowledge)
    {
        var aspect = knowledge.Aspect(finding.Aspect)!.Value.Aspect;
        if (!aspect.Outcomes.Any(o => o.State is not null))
        {
            return null;
        }

        return finding.Outcome is null
            ? CylinderCondition.CannotTell
            : aspect.Outcomes.First(o => o.Id == finding.Outcome).State;
    }

    private static int Rank(CylinderCondition state) => state switch
    {
        CylinderCondition.Dead => 5,
        CylinderCondition.Weak => 4,
        CylinderCondition.Misfiring => 3,
        CylinderCondition.Contributing => 2,
        CylinderCondition.CannotTell => 1,
        CylinderCondition.Unknown => 0,
        _ => throw new InvalidOperationException($"Unknown state {state}."),
    };
}
