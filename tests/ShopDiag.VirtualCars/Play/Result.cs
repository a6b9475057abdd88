using System.Collections.Immutable;
using ShopDiag.VirtualCars.Cars;

namespace ShopDiag.VirtualCars.Play;

/// <summary>How one car ended under one policy.</summary>
internal enum Ending
{
    Right,
    Wrong,
    Unresolved,
}

/// <summary>One probability that was stated and whether it was true.</summary>
internal readonly record struct Stated(double Probability, bool True, bool First);

/// <summary>What came of one car under one policy.</summary>
internal sealed record Result
{
    public required int Index { get; init; }

    public required string Engine { get; init; }

    /// <summary>The causes in order, or that it is no misfire.</summary>
    public required ImmutableArray<string> Causes { get; init; }

    public required Ending Ending { get; init; }

    /// <summary>A wrong diagnosis whose repair all the same ended the trouble.</summary>
    public required bool MendedUnderAnotherName { get; init; }

    /// <summary>Hidden faults that were named right.</summary>
    public required int Found { get; init; }

    public required double Minutes { get; init; }

    public required int Steps { get; init; }

    public required int NeedlessParts { get; init; }

    /// <summary>What was said, for a list of failures.</summary>
    public required string Said { get; init; }

    /// <summary>Probabilities stated after the first look, midway to the last repair, whenever a repair was decided on, at the end (after the check of the repair), and at every step.</summary>
    public ImmutableArray<ImmutableArray<Stated>> Moments { get; init; } = [];

    /// <summary>The result of a finished game.</summary>
    public static Result Of(int index, string engine, IVirtualCar car, Game game)
    {
        var wrong = game.Verdicts.Where(v => v.Proven && !v.Right).ToArray();
        var faults = car.Faults.Length;
        var found = faults - game.Left.Count;
        var right = faults == 0 ? game.Verdicts.Any(v => v.Right) && wrong.Length == 0 : game.Left.Count == 0 && wrong.Length == 0;
        return new Result
        {
            Index = index,
            Engine = engine,
            Causes = faults == 0 ? [Truth.NotAMisfire] : [.. car.Faults.Select(f => f.Cause)],
            Ending = right ? Ending.Right : wrong.Length > 0 ? Ending.Wrong : game.StillMisfires || faults == 0 ? Ending.Unresolved : Ending.Wrong,
            MendedUnderAnotherName = !right && faults > 0 && !game.StillMisfires,
            Found = found,
            Minutes = game.Minutes,
            Steps = game.Steps,
            NeedlessParts = game.NeedlessParts,
            Said = string.Join("; ", game.Verdicts.Select(v => $"{v.Cause} at {v.At}{(v.Proven ? "" : " (tried)")}{(v.Right ? "" : v.Mended ? " mended" : " wrong")}")),
        };
    }
}
