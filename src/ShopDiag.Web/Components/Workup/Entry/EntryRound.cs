using System.Collections.Immutable;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.Web.Components.WorkupViews;

/// <summary>The way an entry takes over the engine: after a reading is saved the next place follows by itself.</summary>
/// <param name="Places">The places still to come when the round began, the first one included, in order of entry.</param>
/// <param name="Again">True for a further round over places that all had a reading already.</param>
public sealed record EntryRound(ImmutableArray<Place> Places, bool Again = false)
{
    /// <summary>One reading at one place; nothing follows.</summary>
    public static EntryRound Only(Place at) => new([at]);

    /// <summary>
    /// A round that begins at a place and goes on in bank order or firing order, once around. Places that have a reading are passed over,
    /// unless all of them have one: then it is a further round over all. One that is barred is passed over in any round, unless it is the beginning.
    /// </summary>
    public static EntryRound From(Place start, Engine engine, bool firingOrder, Func<Place, bool> isFilled, Func<Place, bool> isBarred)
    {
        ArgumentNullException.ThrowIfNull(engine);
        ArgumentNullException.ThrowIfNull(isFilled);
        ArgumentNullException.ThrowIfNull(isBarred);
        var around = Around(engine, start.Kind, firingOrder);
        var from = Math.Max(0, around.IndexOf(start));
        around = [.. around[from..].Concat(around[..from]).Where(p => p == start || !isBarred(p))];
        return around.All(isFilled) ? new(around, Again: true) : new([.. around.Where(p => p == start || !isFilled(p))]);
    }

    /// <summary>The place that follows, or null at the end of the round. What somebody else has filled or barred meanwhile is passed over.</summary>
    public Place? After(Place current, Func<Place, bool> isFilled, Func<Place, bool> isBarred)
    {
        ArgumentNullException.ThrowIfNull(isFilled);
        ArgumentNullException.ThrowIfNull(isBarred);
        var rest = Places[(Places.IndexOf(current) + 1)..];
        return rest.Where(p => (Again || !isFilled(p)) && !isBarred(p)).Cast<Place?>().FirstOrDefault();
    }

    /// <summary>The place beside the current one, going round, whether filled or not; itself where there is no other.</summary>
    public static Place Beside(Place current, Engine engine, bool firingOrder, int step)
    {
        ArgumentNullException.ThrowIfNull(engine);
        var around = Around(engine, current.Kind, firingOrder);
        var here = around.IndexOf(current);
        return around[(((here + step) % around.Length) + around.Length) % around.Length];
    }

    /// <summary>All places of a kind in order of entry: cylinders bank by bank, or as they fire.</summary>
    public static ImmutableArray<Place> Around(Engine engine, PlaceKind kind, bool firingOrder)
    {
        ArgumentNullException.ThrowIfNull(engine);
        return kind switch
        {
            PlaceKind.Cylinder => [.. (firingOrder ? engine.FiringOrder : [.. engine.Banks.SelectMany(b => b)]).Select(Place.Cylinder)],
            PlaceKind.Bank => BenchTest.PlacesOn(engine, TestScope.Bank),
            PlaceKind.Engine => [Place.Engine],
            _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "No test is taken at such a place."),
        };
    }
}
