using System.Collections.Immutable;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Causes;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.VirtualCars.Cars.Garage;

/// <summary>The part that carries a fault along when it is exchanged between cylinders.</summary>
internal enum Part
{
    /// <summary>None: the fault stays where it is.</summary>
    None,

    /// <summary>The coil with its boot.</summary>
    Coil,

    /// <summary>The spark plug.</summary>
    Plug,

    /// <summary>The injector.</summary>
    Injector,
}

/// <summary>A kind of fault that this garage's cars have.</summary>
internal sealed record FaultKind
{
    /// <summary>Stable id of the cause.</summary>
    public required string Cause { get; init; }

    /// <summary>How common among this garage's cars. All made-up, on purpose unlike the usual order of the trade.</summary>
    public required double Weight { get; init; }

    /// <summary>Where it sits when the knowledge does not say how it names the place.</summary>
    public required CauseScope Scope { get; init; }

    /// <summary>The engines it exists on.</summary>
    public Func<Engine, bool> On { get; init; } = _ => true;

    /// <summary>How it goes about.</summary>
    public required ImmutableArray<Habit> Habits { get; init; }

    /// <summary>The least and the most of its cylinders' share in its duty; 1 to 1 where all suffer alike.</summary>
    public (double Least, double Most) Spread { get; init; } = (1, 1);

    /// <summary>The fewest and, as a share of its cylinders, the most that it touches; all unless said.</summary>
    public (int Fewest, double MostShare)? Touches { get; init; }

    /// <summary>The part that carries it along.</summary>
    public Part Travels { get; init; }

    /// <summary>Further causes whose repair, at its place, mends it as well.</summary>
    public ImmutableArray<string> AlsoMendedBy { get; init; } = [];

    /// <summary>True when the repair of one of its cylinders' bank mends it, wherever on that bank it was done (a head gasket).</summary>
    public bool MendedOnBank { get; init; }

    /// <summary>True when the part that is renewed serves all cylinders, whichever the work was written against (a computer, a cap).</summary>
    public bool MendedAnywhere { get; init; }

    /// <summary>Writes what it does to the body, at a severity from 0 to 1.</summary>
    public required Action<GarageFault, Body, double> Hurts { get; init; }

    /// <summary>The places it can sit at. The knowledge is asked only how it names the place, so that both speak of the same one.</summary>
    public IReadOnlyList<Place> PlacesOn(Engine engine)
    {
        var named = Knowledge.Shipped.Cause(Cause);
        return named is not null && named.Fits(engine) ? [.. named.PlacesOn(engine)] : [.. OwnPlaces(engine)];
    }

    private IEnumerable<Place> OwnPlaces(Engine engine) => Scope switch
    {
        CauseScope.Cylinder => engine.Cylinders.Select(Place.Cylinder),
        CauseScope.Companions => engine.CompanionPairs,
        CauseScope.Neighbours => engine.NeighbourPairs,
        CauseScope.Bank => Enumerable.Range(1, engine.Banks.Length).Select(Place.Bank),
        CauseScope.Engine => [Place.Engine],
        _ => throw new InvalidOperationException($"Unknown scope {Scope}."),
    };
}
