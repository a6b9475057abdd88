using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.VirtualCars.Play;

namespace ShopDiag.VirtualCars.Policies;

/// <summary>Does what the program advises, always the first thing.</summary>
internal sealed class FollowsAdvice : IPolicy
{
    /// <summary>More steps than this on one car and the technician gives up.</summary>
    public const int MaxSteps = 45;

    /// <summary>The same test at the same place is taken at most so often.</summary>
    private const int MostTakes = 3;

    /// <inheritdoc/>
    public string Name => "ShopDiag";

    /// <inheritdoc/>
    public void Play(Game game, int faults)
    {
        for (var repairs = 0; repairs < faults + 1;)
        {
            if (game.Assessment.Conclusion is { } conclusion && !AllRepaired(game, conclusion))
            {
                foreach (var cause in conclusion.Causes)
                {
                    game.Repair(cause.Cause, cause.At, proven: true);
                }

                repairs++;
                if (faults == 1 || !game.StillMisfires || conclusion.Causes.Any(c => c.Cause == Truth.NotAMisfire) || !ChecksAfter(game, conclusion))
                {
                    return;
                }
            }
            else if (game.Steps >= MaxSteps || !Step(game) || (game.Verdicts.Count > 0 && !game.StillMisfires))
            {
                return;
            }
        }
    }

    private static bool AllRepaired(Game game, Conclusion conclusion) =>
        conclusion.Causes.All(c => game.Verdicts.Any(v => v.Cause == c.Cause && v.At == c.At));

    // The first advice that this car lets itself be given; false when there is none left.
    private static bool Step(Game game)
    {
        foreach (var advice in game.Assessment.Next)
        {
            if (advice.Repair is not null)
            {
                if (TryPart(game, advice))
                {
                    return true;
                }
            }
            else if (Take(game, game.Knowledge.Test(advice.Test!)!, advice.At))
            {
                return true;
            }
        }

        return false;
    }

    private static bool Take(Game game, BenchTest test, Place at)
    {
        var places = game.PlacesOf(test, at).Where(p => game.CanTake(test.Id, p) && game.Takes(test.Id, p) < MostTakes).ToArray();
        return places.Length > 0 && game.Take(test.Id, places);
    }

    // A repair without proof: the cause is the likeliest one at that place that this work mends.
    private static bool TryPart(Game game, NextStepAdvice advice)
    {
        var cause = game.Assessment.Causes.FirstOrDefault(c => c.At == advice.At && !game.Verdicts.Any(v => v.Cause == c.Cause && v.At == c.At)
            && RepairPlan.For(game.Engine, [(game.Knowledge.Cause(c.Cause)!, c.At)]).Summary == advice.Repair!.Summary);
        if (cause is null)
        {
            return false;
        }

        game.Repair(cause.Cause, cause.At, proven: false);
        // Whether it helped is seen by counting misfires once more.
        AfterCheck.Run(game);
        return true;
    }

    // The readings after the repair that the program asks for; false when it has nothing more to ask.
    private static bool ChecksAfter(Game game, Conclusion conclusion)
    {
        foreach (var test in conclusion.Repair.Check.Select(id => game.Knowledge.Test(id)!).Where(t => t.Fits(game.Engine)))
        {
            var places = test.Compares || test.Scope != TestScope.Cylinder
                ? test.PlacesOn(game.Engine)
                : [.. conclusion.Causes.SelectMany(c => game.Engine.CylindersAt(c.At)).Distinct().Select(Place.Cylinder)];
            game.Take(test.Id, places);
        }

        return !game.Assessment.Next.IsEmpty;
    }
}
