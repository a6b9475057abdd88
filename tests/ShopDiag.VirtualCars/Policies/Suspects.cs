using ShopDiag.Diagnosis.Workups;
using ShopDiag.VirtualCars.Play;

namespace ShopDiag.VirtualCars.Policies;

/// <summary>The cylinders that the readings point at, worst first.</summary>
internal static class Suspects
{
    private static readonly string[] Measured = ["misfire-counts", "power-balance"];

    /// <summary>Those that counts or balance show; where these show none, those that a code names.</summary>
    public static IReadOnlyList<int> Of(Game game)
    {
        var found = game.Assessment.Findings
            .Where(f => f.Stage == game.Stage && f.At.Kind == Diagnosis.PlaceKind.Cylinder && f.Outcome is not null && IsBad(game, f))
            .ToArray();
        var measured = found.Where(f => Measured.Contains(f.Test)).ToArray();
        return
        [
            .. (measured.Length > 0 ? measured : found)
                .GroupBy(f => f.At.First)
                .OrderByDescending(g => g.Count())
                .ThenByDescending(g => g.Where(f => f.Test == Measured[0]).Max(f => f.Measure) ?? 0)
                .ThenBy(g => g.Key)
                .Select(g => g.Key),
        ];
    }

    private static bool IsBad(Game game, Finding finding) =>
        game.Knowledge.Aspect(finding.Aspect)!.Value.Aspect.Outcomes.First(o => o.Id == finding.Outcome).State
            is CylinderCondition.Misfiring or CylinderCondition.Weak or CylinderCondition.Dead;
}
