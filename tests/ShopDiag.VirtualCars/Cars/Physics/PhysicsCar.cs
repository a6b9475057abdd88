using System.Collections.Immutable;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.VirtualCars.Cars.Physics.Faults;
using ShopDiag.VirtualCars.Cars.Physics.Instruments;

namespace ShopDiag.VirtualCars.Cars.Physics;

/// <summary>A car whose readings come from the physics of its hidden state.</summary>
internal sealed class PhysicsCar : IVirtualCar
{
    private readonly EngineState _sound;
    private readonly ImmutableArray<string> _codes;
    private readonly Reader _reader;
    private readonly int _seed;
    private readonly Dictionary<(string Test, Place At), int> _taken = [];
    private ImmutableArray<Defect> _defects;
    private Bay _bay;

    public PhysicsCar(EngineState sound, ImmutableArray<Defect> defects, Concern concern, ImmutableArray<string> codes, Reader reader, int seed)
    {
        (_sound, _defects, Concern, _codes, _reader, _seed) = (sound, defects, concern, codes, reader, seed);
        Faults = [.. defects.Select(d => new HiddenFault(d.Kind.Cause, d.At))];
        _bay = InBay();
    }

    /// <inheritdoc/>
    public Engine Engine => _sound.Engine;

    /// <inheritdoc/>
    public ImmutableArray<HiddenFault> Faults { get; }

    /// <inheritdoc/>
    public Concern Concern { get; }

    /// <inheritdoc/>
    public bool StillMisfires => _bay.Driving.Misfires;

    /// <summary>How it runs now.</summary>
    public Driving Driving => _bay.Driving;

    /// <inheritdoc/>
    public Reading? Take(BenchTest test, Place at, Stage stage)
    {
        ArgumentNullException.ThrowIfNull(test);
        var nth = _taken.GetValueOrDefault((test.Id, at));
        _taken[(test.Id, at)] = nth + 1;
        // A stream of its own for each reading: what was read before, and in which order, changes nothing.
        var random = Chance.Stream(_seed, $"{test.Id} {at} {stage}", nth);
        Reading? reading = null;
        for (var i = 0; i < 3; i++)
        {
            reading = Read(test, at, stage, random);
            // What cannot be is refused, what is unlikely is asked about: it is read again.
            if (reading is null || (ReadingCheck.Error(reading, test, Engine) is null && (i > 0 || ReadingCheck.Doubt(reading, test) is null)))
            {
                return reading;
            }
        }

        return reading;
    }

    /// <inheritdoc/>
    public bool Repair(string cause, Place at)
    {
        var left = _defects.Where(d => !Mending.Mends(cause, at, d, Engine)).ToImmutableArray();
        var mended = left.Length < _defects.Length;
        _defects = left;
        _bay = InBay();
        return mended;
    }

    /// <summary>The state that the defects make of a sound engine.</summary>
    public static EngineState Harmed(EngineState sound, IEnumerable<Defect> defects)
    {
        var state = sound.Copy();
        foreach (var defect in defects)
        {
            defect.Apply(state);
        }

        return state;
    }

    private Bay InBay()
    {
        var state = Harmed(_sound, _defects);
        return new Bay(state, new Driving(state), _reader, _seed);
    }

    private Reading? Read(BenchTest test, Place at, Stage stage, Random random)
    {
        if (test.Id == "intake-leak")
        {
            return Smoke(test, at, stage, random);
        }

        if (test.Id == "trouble-codes")
        {
            return Codes(test, stage, random);
        }

        if (!Bay.Instruments.TryGetValue(test.Id, out var instrument))
        {
            return null;
        }

        var touched = at.First;
        if (at.Kind == PlaceKind.Cylinder && _reader.WrongCylinder(random) && Engine.Neighbours(at.First).ToArray() is { Length: > 0 } beside)
        {
            touched = random.Of(beside);
        }

        return instrument(_bay, touched, random) is not { } fields || (Partner(fields) is { } partner && partner == at.First)
            ? null
            : new Reading { Test = test.Id, At = at, Stage = stage, Value = new ReadingValue(Known(test, fields)) };
    }

    private static int? Partner(IEnumerable<KeyValuePair<string, FieldValue>> fields) =>
        fields.Where(f => f.Key == "swappedWith").Select(f => (int?)f.Value.Numbers[0]).FirstOrDefault();

    // Only what the test asks for is written down.
    private static IEnumerable<KeyValuePair<string, FieldValue>> Known(BenchTest test, IEnumerable<KeyValuePair<string, FieldValue>> fields) =>
        fields.Where(f => test.Fields.Any(t => t.Name == f.Key));

    // What was stored when it came in; after a repair, what another drive stores.
    private Reading Codes(BenchTest test, Stage stage, Random random)
    {
        var codes = stage == Stage.Before ? _codes : new CodeStore(Driving, random).Codes();
        return new Reading { Test = test.Id, At = Place.Engine, Stage = stage, Value = new ReadingValue([Bay.Field("codes", [.. codes])]) };
    }

    // Smoke fed into the whole intake also comes out at a runner; what is seen is written down where it is seen.
    private Reading Smoke(BenchTest test, Place at, Stage stage, Random random)
    {
        var runner = Engine.CylindersAt(at).FirstOrDefault(c => AirBench.SmokeAt(_bay, c, random));
        var common = at.Kind == PlaceKind.Engine && AirBench.SmokeCommon(_bay, random);
        var seen = runner > 0 || common;
        return new Reading
        {
            Test = test.Id,
            At = runner > 0 && !common ? Place.Cylinder(runner) : at,
            Stage = stage,
            Value = new ReadingValue([Bay.Field("found", seen ? "yes" : "no"), Bay.Field("where", !seen ? "" : common ? "hose at the plenum" : "runner")]),
        };
    }
}
