using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.VirtualCars.Play;

namespace ShopDiag.VirtualCars.Policies;

/// <summary>The look after a repair that every policy takes alike: misfires counted on all cylinders.</summary>
internal static class AfterCheck
{
    /// <summary>What is counted.</summary>
    public const string Counts = "misfire-counts";

    /// <summary>Counts misfires once more.</summary>
    public static void Run(Game game) => game.Take(Counts, [.. game.Engine.Cylinders.Select(Place.Cylinder)]);

    /// <summary>True when the counts after the repair are clean on every cylinder.</summary>
    public static bool ShowsAllWell(Game game)
    {
        var counted = game.Assessment.Findings.Where(f => f.Test == Counts && f.Stage == Stage.After).ToArray();
        return counted.Length == game.Engine.CylinderCount
            && counted.All(f => f.Outcome is { } o && game.Knowledge.Aspect(f.Aspect)!.Value.Aspect.Outcomes.First(x => x.Id == o).State == CylinderCondition.Contributing);
    }
}
