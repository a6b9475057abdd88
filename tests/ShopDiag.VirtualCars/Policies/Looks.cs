using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.VirtualCars.Play;

namespace ShopDiag.VirtualCars.Policies;

/// <summary>The checklist's way to look: takes a test when it has not been taken, and gives the outcome as the evaluation has it.</summary>
internal sealed class Looks(Game game)
{
    public Game Game => game;

    public Engine Engine => game.Engine;

    /// <summary>The outcome of a test at a cylinder, taken now if need be and taken again once when it cannot tell; null when it cannot be had.</summary>
    public string? At(string test, int cylinder) => Outcome(test, Place.Cylinder(cylinder));

    /// <summary>The outcome of an engine's test.</summary>
    public string? OfEngine(string test) => Outcome(test, Place.Engine);

    /// <summary>The outcome at a place.</summary>
    public string? Outcome(string test, Place at)
    {
        for (var i = 0; i < 2 && Known(test, at) is null && game.CanTake(test, at) && game.Takes(test, at) < 2; i++)
        {
            if (game.Knowledge.Test(test)!.Compares)
            {
                Round(test);
            }
            else
            {
                game.Take(test, at);
            }
        }

        return Known(test, at);
    }

    /// <summary>An outcome that was bad is read once more before anything is bought on it.</summary>
    public string? Confirmed(string test, int cylinder, params IReadOnlyCollection<string> bad)
    {
        var at = Place.Cylinder(cylinder);
        if (At(test, cylinder) is { } first && bad.Contains(first) && game.Takes(test, at) < 2)
        {
            game.Take(test, at);
        }

        return Known(test, at);
    }

    /// <summary>Takes a test at all its places, once.</summary>
    public void Round(string test)
    {
        if (game.Knowledge.Test(test) is { } known)
        {
            var places = known.PlacesOn(Engine).Where(p => game.CanTake(test, p) && game.Takes(test, p) < 2 && Known(test, p) is null).ToArray();
            if (places.Length > 0)
            {
                game.Take(test, places);
            }
        }
    }

    /// <summary>The outcome that is known already, of this stage.</summary>
    public string? Known(string test, Place at) => game.Assessment.Findings
        .LastOrDefault(f => f.Aspect == test && f.At == at && f.Stage == game.Stage)?.Outcome;

    /// <summary>True when a code that starts so is known.</summary>
    public bool HasCode(string start) => game.Workup.Concern.Codes
        .Concat(game.Workup.Readings.Where(r => r.Test == "trouble-codes").SelectMany(r => r.Value.Texts("codes")))
        .Any(c => c.StartsWith(start, StringComparison.Ordinal));

    /// <summary>True when every cylinder pulls and counts clean, and no code speaks of a misfire.</summary>
    public bool AllGood() => Engine.Cylinders.All(c =>
        Known("power-balance", Place.Cylinder(c)) == "contributing" && Known("misfire-counts", Place.Cylinder(c)) == "clean") && !HasCode("P03");
}
