using System.Collections.Immutable;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.VirtualCars.Cars.Garage;

/// <summary>One fault in one car: drawn once, the same until it is mended.</summary>
internal sealed class GarageFault
{
    // Made-up: below this a driver would not have come in.
    private const double LeastDuty = 0.08;

    private GarageFault(FaultKind kind, Place at, ImmutableSortedDictionary<int, Duty> duties) => (Kind, At, Duties) = (kind, at, duties);

    /// <summary>What kind.</summary>
    public FaultKind Kind { get; }

    /// <summary>Where.</summary>
    public Place At { get; }

    /// <summary>The cylinders that it makes misfire, with their duty.</summary>
    public ImmutableSortedDictionary<int, Duty> Duties { get; }

    /// <summary>How bad the part itself is, 0 to 1; what the instruments read follows this, the misfires follow the duty.</summary>
    public required double Severity { get; init; }

    /// <summary>Chance that a test meets it awake.</summary>
    public required double Presence { get; init; }

    /// <summary>An even draw that chooses between the faces of one fault: which valve, open or shorted, too much or too little.</summary>
    public required double Face { get; init; }

    /// <summary>A second one.</summary>
    public required double Side { get; init; }

    /// <summary>The cylinders of its place.</summary>
    public IEnumerable<int> Cylinders(Engine engine) => engine.CylindersAt(At);

    /// <summary>The banks of its place.</summary>
    public IEnumerable<int> Banks(Engine engine) => Cylinders(engine).Select(engine.BankOf).Distinct();

    /// <summary>Draws one; again and again until it is bad enough to be noticed.</summary>
    public static GarageFault Draw(FaultKind kind, Engine engine, Dice dice)
    {
        while (true)
        {
            var fault = DrawOnce(kind, engine, dice);
            if (kind.Habits.IsEmpty || fault.Duties.Values.Any(d => d.Most >= LeastDuty))
            {
                return fault;
            }
        }
    }

    private static GarageFault DrawOnce(FaultKind kind, Engine engine, Dice dice)
    {
        // Cars are brought in late: severities lean to the bad end. Made-up.
        var severity = 0.25 + (0.75 * Math.Pow(dice.Share(), 0.6));
        var at = dice.OneOf(kind.PlacesOn(engine));
        var habit = kind.Habits.IsEmpty ? new Habit(1, default) : dice.Weighted(kind.Habits, h => h.Weight);
        var duties = ImmutableSortedDictionary.CreateBuilder<int, Duty>();
        foreach (var cylinder in Touched(kind, at, engine, dice))
        {
            var own = dice.Between(kind.Spread.Least, kind.Spread.Most);
            duties[cylinder] = habit.Duty.Times((0.35 + (0.65 * severity)) * dice.Factor(0.2) * own);
        }

        return new GarageFault(kind, at, duties.ToImmutable())
        {
            Severity = severity, Presence = habit.Presence, Face = dice.Share(), Side = dice.Share(),
        };
    }

    private static List<int> Touched(FaultKind kind, Place at, Engine engine, Dice dice)
    {
        List<int> all = [.. engine.CylindersAt(at)];
        if (kind.Touches is not { } touches)
        {
            return all;
        }

        var most = Math.Max(touches.Fewest, (int)Math.Round(all.Count * touches.MostShare, MidpointRounding.AwayFromZero));
        var count = Math.Min(all.Count, dice.Whole(touches.Fewest, most));
        return [.. all.OrderBy(_ => dice.Share()).Take(count).Order()];
    }
}
