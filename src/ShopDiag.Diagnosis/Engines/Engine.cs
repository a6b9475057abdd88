using System.Collections.Immutable;

namespace ShopDiag.Diagnosis.Engines;

/// <summary>How the spark is made and led to the plug.</summary>
public enum Ignition
{
    /// <summary>One coil on each plug.</summary>
    CoilOnPlug,

    /// <summary>One coil for two companion cylinders.</summary>
    WasteSpark,

    /// <summary>One coil a cylinder with a short lead.</summary>
    CoilNearPlug,

    /// <summary>One coil, a rotor and a lead to each plug.</summary>
    Distributor,
}

/// <summary>Where the fuel is injected.</summary>
public enum Injection
{
    /// <summary>One injector a cylinder in the intake port.</summary>
    Port,

    /// <summary>One injector a cylinder in the combustion chamber.</summary>
    Direct,

    /// <summary>One or two injectors for all cylinders at the throttle.</summary>
    ThrottleBody,
}

/// <summary>How the play between cam and valve is kept.</summary>
public enum ValveLash
{
    /// <summary>Not said.</summary>
    Unknown,

    /// <summary>Set with shims or screws: it can be measured, and be too tight.</summary>
    Adjusted,

    /// <summary>Taken up by oil: there is none to measure.</summary>
    Hydraulic,
}

/// <summary>
/// A four-stroke engine as the reasoning sees it: banks, firing order, ignition, injection, access and limits.
/// Everything else (companions, neighbours, intervals) is derived from these and never typed.
/// Made by <see cref="Create"/>, which refuses what cannot be; what exists is valid.
/// </summary>
public sealed class Engine
{
    /// <summary>The largest number of cylinders that the program knows: 16.</summary>
    public const int MaxCylinders = 16;

    private readonly int[] _bankOf;
    private readonly int[] _firingPosition;

    private Engine(EngineSpec spec)
    {
        Spec = spec;
        _bankOf = new int[CylinderCount + 1];
        for (var b = 0; b < spec.Banks.Length; b++)
        {
            foreach (var cylinder in spec.Banks[b])
            {
                _bankOf[cylinder] = b + 1;
            }
        }

        _firingPosition = new int[CylinderCount + 1];
        for (var i = 0; i < CylinderCount; i++)
        {
            _firingPosition[spec.FiringOrder[i]] = i;
        }

        Cylinders = [.. Enumerable.Range(1, CylinderCount)];
        CompanionPairs = [.. Cylinders.Where(c => Companion(c) > c).Select(c => Place.Pair(c, Companion(c)!.Value))];
        NeighbourPairs = [.. spec.Banks.SelectMany(bank => bank.Zip(bank.Skip(1), Place.Pair))];
    }

    /// <summary>What the engine was made from.</summary>
    public EngineSpec Spec { get; }

    /// <summary>Number of cylinders, 1 to 16.</summary>
    public int CylinderCount => Spec.FiringOrder.Length;

    /// <summary>The cylinder numbers 1 to N in order.</summary>
    public ImmutableArray<int> Cylinders { get; }

    /// <summary>The banks from 1 in order, each front to rear.</summary>
    public ImmutableArray<ImmutableArray<int>> Banks => Spec.Banks;

    /// <summary>The firing order.</summary>
    public ImmutableArray<int> FiringOrder => Spec.FiringOrder;

    /// <summary>How the spark is made.</summary>
    public Ignition Ignition => Spec.Ignition;

    /// <summary>Where the fuel goes in.</summary>
    public Injection Injection => Spec.Injection;

    /// <summary>Pairs that fire 360 degrees apart (waste-spark companions); none where N is odd.</summary>
    public ImmutableArray<Place> CompanionPairs { get; }

    /// <summary>Pairs next to each other on one bank, which share a gasket land.</summary>
    public ImmutableArray<Place> NeighbourPairs { get; }

    /// <summary>Mean firing interval in degrees of crank: 720/N.</summary>
    public double FiringInterval => 720.0 / CylinderCount;

    /// <summary>Degrees of crank from each firing to the next, in firing order; all equal unless the engine is odd-fire.</summary>
    public ImmutableArray<double> FiringIntervals => Spec.FiringIntervals.IsDefaultOrEmpty
        ? [.. Enumerable.Repeat(FiringInterval, CylinderCount)]
        : Spec.FiringIntervals;

    /// <summary>True when every cylinder fires the same angle after the one before.</summary>
    public bool IsEvenFire => Spec.FiringIntervals.IsDefaultOrEmpty
        || Spec.FiringIntervals.All(i => Math.Abs(i - FiringInterval) < 0.01);

    /// <summary>Firing frequency in hertz at an engine speed in revolutions a minute: rpm*N/120.</summary>
    public double FiringFrequencyHz(double rpm) => rpm * CylinderCount / 120.0;

    /// <summary>Frequency in hertz at which one misfiring cylinder shows (the half order): rpm/120.</summary>
    public static double HalfOrderHz(double rpm) => rpm / 120.0;

    /// <summary>The bank (from 1) that a cylinder stands on.</summary>
    public int BankOf(int cylinder) => _bankOf[Checked(cylinder)];

    /// <summary>
    /// The cylinder that fires 360 degrees of crank away, or null where there is none: N odd, or an odd-fire engine
    /// in which no other cylinder fires exactly one turn later.
    /// </summary>
    public int? Companion(int cylinder)
    {
        var position = _firingPosition[Checked(cylinder)];
        var angle = 0.0;
        for (var i = 0; i < CylinderCount; i++)
        {
            if (Math.Abs(angle - 360) < 0.01)
            {
                return FiringOrder[(position + i) % CylinderCount];
            }

            angle += FiringIntervals[(position + i) % CylinderCount];
        }

        return null;
    }

    /// <summary>The cylinders next to this one on its bank: none, one or two.</summary>
    public IEnumerable<int> Neighbours(int cylinder)
    {
        var bank = Banks[BankOf(cylinder) - 1];
        var i = bank.IndexOf(cylinder);
        if (i > 0)
        {
            yield return bank[i - 1];
        }

        if (i + 1 < bank.Length)
        {
            yield return bank[i + 1];
        }
    }

    /// <summary>The cylinder that fires just before this one.</summary>
    public int FiresBefore(int cylinder) =>
        FiringOrder[(_firingPosition[Checked(cylinder)] + CylinderCount - 1) % CylinderCount];

    /// <summary>Position in the firing order, 0 to N-1.</summary>
    public int FiringPosition(int cylinder) => _firingPosition[Checked(cylinder)];

    /// <summary>Extra minutes to get at the plugs and coils of a bank (an intake plenum, a cowl); 0 unless given.</summary>
    public double AccessMinutes(int bank) => Spec.AccessMinutes.GetValueOrDefault(bank);

    /// <summary>The cylinders of a place, in order.</summary>
    public IEnumerable<int> CylindersAt(Place place) => place.Kind switch
    {
        PlaceKind.Engine => Cylinders,
        PlaceKind.Bank => Banks[place.First - 1],
        PlaceKind.Pair => [place.First, place.Second],
        PlaceKind.Cylinder => [place.First],
        _ => throw new InvalidOperationException($"Unknown kind of place {place.Kind}."),
    };

    /// <summary>True when the place exists on this engine.</summary>
    public bool Has(Place place) => place.Kind switch
    {
        PlaceKind.Engine => true,
        PlaceKind.Bank => place.First <= Banks.Length,
        PlaceKind.Pair => place.Second <= CylinderCount,
        PlaceKind.Cylinder => place.First <= CylinderCount,
        _ => throw new InvalidOperationException($"Unknown kind of place {place.Kind}."),
    };

    /// <summary>Checks a description and makes the engine, or says what is wrong with it and where.</summary>
    public static Parsed<Engine> Create(EngineSpec spec)
    {
        ArgumentNullException.ThrowIfNull(spec);
        return EngineChecks.FirstError(spec) is { } error ? error : new Engine(spec);
    }

    private int Checked(int cylinder) => cylinder >= 1 && cylinder <= CylinderCount
        ? cylinder
        : throw new ArgumentOutOfRangeException(nameof(cylinder), cylinder, $"This engine has cylinders 1 to {CylinderCount}.");
}
