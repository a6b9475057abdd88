using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.VirtualCars.Play;

namespace ShopDiag.VirtualCars.Policies;

/// <summary>
/// A careful master's fixed list: codes and counts, then on the suspected cylinder spark, plug, injector, air leak, compression and leak-down; where no
/// cylinder stands out, the engine's own list. He stops as soon as a rule of his says what it is, and takes a doubtful reading again. He reads the same
/// outcomes as the program, but not its probabilities.
/// </summary>
internal sealed class CarefulChecklist : IPolicy
{
    /// <inheritdoc/>
    public string Name => "careful checklist";

    /// <inheritdoc/>
    public void Play(Game game, int faults)
    {
        for (var i = 0; i <= faults; i++)
        {
            if (Diagnose(game) is not { } diagnosis)
            {
                return;
            }

            game.Repair(diagnosis.Cause, diagnosis.At, proven: true);
            if (faults == 1 || !game.StillMisfires || diagnosis.Cause == Truth.NotAMisfire)
            {
                return;
            }

            AfterCheck.Run(game);
            if (AfterCheck.ShowsAllWell(game))
            {
                return;
            }
        }
    }

    private static (string Cause, Place At)? Diagnose(Game game)
    {
        var look = new Looks(game);
        if (game.Stage == Stage.Before)
        {
            if (game.Workup.Concern.Codes.IsEmpty)
            {
                game.Take("trouble-codes", Place.Engine);
            }

            game.Take("misfire-counts", [.. game.Engine.Cylinders.Select(Place.Cylinder)]);
        }

        if (Suspects.Of(game).Count is 0 or > 2)
        {
            look.Round("power-balance");
        }

        var suspects = Suspects.Of(game);
        var many = suspects.Count == 0 || suspects.Count > Math.Max(2, game.Engine.CylinderCount / 2);
        var engine = new EngineList(look);
        var found = many
            ? engine.Find() ?? suspects.Take(1).Select(c => new CylinderList(look, c).Find()).FirstOrDefault()
            : suspects.Take(2).Select(c => new CylinderList(look, c).Find()).FirstOrDefault(d => d is not null) ?? engine.Find();
        if (found is not null || suspects.Count > 0)
        {
            return found;
        }

        return look.AllGood() ? (Truth.NotAMisfire, Place.Engine) : null;
    }
}
