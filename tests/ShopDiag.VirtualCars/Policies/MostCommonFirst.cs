using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.VirtualCars.Play;

namespace ShopDiag.VirtualCars.Policies;

/// <summary>Finds the cylinder, then fits the part that most often fails, looks, and fits the next: how parts are guessed with.</summary>
internal sealed class MostCommonFirst : IPolicy
{
    private static readonly string[] AtCylinder =
        ["plug-worn", "coil-failed", "shared-coil-failed", "plug-wire-open", "coil-boot-leak", "injector-clogged", "intake-leak-runner"];

    private static readonly string[] AtEngine = ["plug-worn", "distributor-cap-rotor", "intake-leak-common", "fuel-pressure-low", "airflow-signal-wrong"];

    /// <inheritdoc/>
    public string Name => "most common part first";

    /// <inheritdoc/>
    public void Play(Game game, int faults)
    {
        if (game.Workup.Concern.Codes.IsEmpty)
        {
            game.Take("trouble-codes", Place.Engine);
        }

        game.Take("misfire-counts", [.. game.Engine.Cylinders.Select(Place.Cylinder)]);
        var tried = new HashSet<(string, Place)>();
        while (Next(game, tried) is { } part)
        {
            tried.Add(part);
            if (game.Repair(part.Cause, part.At, proven: false).Mended && !game.StillMisfires)
            {
                return;
            }

            AfterCheck.Run(game);
            if (game.Stage == Diagnosis.BenchTests.Stage.After && AfterCheck.ShowsAllWell(game))
            {
                return;
            }
        }
    }

    private static (string Cause, Place At)? Next(Game game, HashSet<(string, Place)> tried)
    {
        var suspects = Suspects.Of(game).Take(2).ToArray();
        var parts = suspects.SelectMany(c => AtCylinder.Select(cause => (Cause: cause, At: PlaceOf(game, cause, c))))
            .Concat(AtEngine.Select(cause => (Cause: cause, At: cause == "plug-worn" ? Place.Cylinder(1) : Place.Engine)))
            .Where(p => game.Knowledge.Cause(p.Cause)?.Fits(game.Engine) == true && !tried.Contains(p))
            .ToArray();
        return parts.Length == 0 ? null : parts[0];
    }

    private static Place PlaceOf(Game game, string cause, int cylinder) =>
        cause == "shared-coil-failed" && game.Engine is { Ignition: Ignition.WasteSpark } e ? Place.Pair(cylinder, e.Companion(cylinder)!.Value) : Place.Cylinder(cylinder);
}
