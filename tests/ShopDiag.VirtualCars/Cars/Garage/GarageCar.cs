using System.Collections.Immutable;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.VirtualCars.Cars.Garage.Bench;
using ShopDiag.VirtualCars.Cars.Garage.Faults;

namespace ShopDiag.VirtualCars.Cars.Garage;

/// <summary>
/// A car of the second maker. Each reading has chance of its own that hangs on the car, the test, the place and how often it was taken
/// there, so that what one policy reads does not hang on what it has read before.
/// </summary>
internal sealed class GarageCar : IVirtualCar
{
    private readonly int _seed;
    private readonly Wear _wear;
    private readonly Workshop _shop;
    private readonly MakersData _maker;
    private readonly List<GarageFault> _left;
    private readonly ImmutableArray<GarageFault> _drawn;
    private readonly ImmutableArray<string> _codes;
    private readonly Dictionary<(string Test, Place At, Stage Stage), int> _taken = [];
    private bool _shakes;

    /// <summary>A car with these faults; without any, something outside the engine shakes it.</summary>
    public GarageCar(Engine engine, ImmutableArray<GarageFault> faults, ReaderError error, Dice dice)
    {
        Engine = engine;
        _drawn = faults;
        _left = [.. faults];
        _shakes = faults.IsEmpty;
        _wear = Wear.Draw(engine, dice);
        _shop = Workshop.Draw(error, dice);
        _maker = new MakersData(engine);
        _seed = dice.Seed();
        _codes = CodeMemory.Draw(VisitOf(Place.Engine, _left, Dice.For(_seed, "memory")));
        Concern = ConcernTeller.Tell(VisitOf(Place.Engine, _left, Dice.For(_seed, "concern")), _codes);
    }

    /// <inheritdoc/>
    public Engine Engine { get; }

    /// <inheritdoc/>
    /// <remarks>As drawn: a repair takes none away.</remarks>
    public ImmutableArray<HiddenFault> Faults => [.. _drawn.Select(f => new HiddenFault(f.Kind.Cause, f.At))];

    /// <inheritdoc/>
    public Concern Concern { get; }

    /// <inheritdoc/>
    /// <remarks>The tests for them came into the knowledge after this garage was built.</remarks>
    public ImmutableArray<string> MissingTools => ["propane-bottle", "spring-tester"];

    /// <inheritdoc/>
    public bool StillMisfires => _left.Count > 0;

    /// <inheritdoc/>
    public Reading? Take(BenchTest test, Place at, Stage stage)
    {
        ArgumentNullException.ThrowIfNull(test);
        if (!test.Fits(Engine) || !test.Takes(at.Kind) || !Engine.Has(at))
        {
            return null;
        }

        var times = _taken[(test.Id, at, stage)] = _taken.GetValueOrDefault((test.Id, at, stage)) + 1;
        var reading = Read(test, at, stage, times, look: 1);
        // A number that the program asks about is looked at once more; what is still unlikely then is written down.
        return reading is not null && ReadingCheck.Doubt(reading, test) is not null ? Read(test, at, stage, times, look: 2) : reading;
    }

    /// <inheritdoc/>
    /// <remarks>For a car without a fault in the engine, finding out that it is none ends the trouble; that counts as mended once.</remarks>
    public bool Repair(string cause, Place at)
    {
        if (_shakes && cause == FaultBook.Sound)
        {
            _shakes = false;
            return true;
        }

        return _left.RemoveAll(f => Mending.Mends(cause, at, f, Engine)) > 0;
    }

    private Reading? Read(BenchTest test, Place at, Stage stage, int times, int look)
    {
        var dice = Dice.For(_seed, test.Id, (int)at.Kind, at.First, at.Second, (int)stage, times, look);
        var round = Dice.For(_seed, "round-" + test.Id, (int)stage, times);
        return ValueOf(test, at, stage, dice, round) is { } value ? new Reading { Test = test.Id, At = at, Value = value, Stage = stage } : null;
    }

    private ReadingValue? ValueOf(BenchTest test, Place at, Stage stage, Dice dice, Dice round)
    {
        if (test.Id == TestTable.Codes)
        {
            return new Values().Words("codes", [.. CodesAt(stage)]).For(test);
        }

        // The coils of two cylinders are one block here and cannot be exchanged.
        if (!TestTable.Has(test.Id) || (test.Id == "coil-swap" && Engine.Ignition == Ignition.WasteSpark) || (Engine.CylinderCount < 2 && test.Fields.Any(f => f.Kind == FieldKind.Cylinder)))
        {
            return null;
        }

        var slips = dice.Chance(_shop.SlipChance);
        var lost = slips && at.Kind == PlaceKind.Cylinder && dice.Chance(0.5);
        var held = lost ? WrongCylinder(at, dice) : at;
        var value = TestTable.Take(test.Id, VisitOf(held, Awake(test.Id, stage), dice, round)).For(test);
        return slips && !lost ? PenSlip.Wrong(value, test, at, dice) : lost ? AtHome(value, held, at) : value;
    }

    // Counted one too far along the bank, or along the row of numbers.
    private Place WrongCylinder(Place at, Dice dice)
    {
        var others = Engine.Neighbours(at.First).ToList();
        return others.Count == 0 ? at : Place.Cylinder(dice.OneOf(others));
    }

    // He swapped at the wrong cylinder and believes that it was the right one: what he writes must not name itself as its partner.
    private static ReadingValue AtHome(ReadingValue value, Place held, Place at)
    {
        if (value.Number("swappedWith") is not { } partner || (int)partner != at.First)
        {
            return value;
        }

        return new ReadingValue(value.Fields.SetItem("swappedWith", FieldValue.Of((double)held.First)));
    }

    // After a repair the memory was cleared and the car driven: what is left has set its codes again, nothing else.
    private ImmutableArray<string> CodesAt(Stage stage)
    {
        if (stage == Stage.Before)
        {
            return _codes;
        }

        return _left.Count == 0 ? [] : CodeMemory.Draw(VisitOf(Place.Engine, _left, Dice.For(_seed, "memory-after", _left.Count)));
    }

    // A fault that hides from a test hides from it however often it is repeated; another test may meet it.
    private List<GarageFault> Awake(string test, Stage stage) => TestTable.NeedsAwake(test)
        ? [.. _left.Where(f => Dice.For(_seed, "awake-" + test, _drawn.IndexOf(f), (int)stage).Chance(f.Presence))]
        : _left;

    private Visit VisitOf(Place at, IReadOnlyList<GarageFault> awake, Dice dice, Dice? round = null)
    {
        var body = new Body(Engine);
        _wear.Mark(body);
        foreach (var fault in awake)
        {
            fault.Kind.Hurts(fault, body, fault.Severity);
        }

        return new Visit
        {
            Body = body, Awake = awake, Left = _left, Wear = _wear, Shop = _shop, Maker = _maker, Dice = dice, Round = round ?? dice, At = at, Shakes = _shakes,
        };
    }
}
