using System.Collections.Immutable;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.VirtualCars.Cars.Physics.Faults;

namespace ShopDiag.VirtualCars.Cars.Physics;

/// <summary>Draws cars from physics: a sound engine, faults by their frequencies, drawn again until the faults make it misfire.</summary>
public sealed class PhysicsCarMaker : ICarMaker
{
    private const int Redraws = 400;
    private const int SeverityDraws = 60;

    /// <inheritdoc/>
    public string Name => "one";

    /// <inheritdoc/>
    public IVirtualCar Make(Engine engine, int faults, ReaderError error, Random random)
    {
        ArgumentNullException.ThrowIfNull(engine);
        ArgumentNullException.ThrowIfNull(random);
        for (var i = 0; i < Redraws; i++)
        {
            var seed = random.Next();
            var sound = SoundEngine.Draw(engine, Chance.Stream(seed, "sound"));
            if (new Driving(sound).Misfires)
            {
                continue;
            }

            if (Draw(sound, faults, Chance.Stream(seed, "faults")) is { } defects)
            {
                return Arrive(sound, defects, error, seed);
            }
        }

        throw new InvalidOperationException($"No car of {engine.Spec.Layout} with {faults} faults that misfire came out of {Redraws} draws.");
    }

    /// <summary>A car with one fault of a given cause, for tests and tables.</summary>
    internal static PhysicsCar? With(Engine engine, string cause, ReaderError error, int seed)
    {
        var sound = SoundEngine.Draw(engine, Chance.Stream(seed, "sound"));
        var kind = FaultKind.All.First(k => k.Cause == cause);
        return Misfiring(sound, kind, Chance.Stream(seed, "faults")) is { } defect ? Arrive(sound, [defect], error, seed) : null;
    }

    /// <summary>A car with a sound engine.</summary>
    internal static PhysicsCar Sound(Engine engine, ReaderError error, int seed) =>
        Arrive(SoundEngine.Draw(engine, Chance.Stream(seed, "sound")), [], error, seed);

    private static ImmutableArray<Defect>? Draw(EngineState sound, int faults, Random random)
    {
        var kinds = FaultKind.All.Where(k => k.Places(sound.Engine).Any()).ToArray();
        var total = kinds.Sum(k => k.Frequency) + Frequencies.NotAMisfire;
        if (faults == 1 && random.Happens(Frequencies.NotAMisfire / total))
        {
            return [];
        }

        var defects = ImmutableArray.CreateBuilder<Defect>();
        for (var i = 0; i < 12 && defects.Count < faults; i++)
        {
            // No two are the same trouble: what mends one must not mend the other.
            if (Misfiring(sound, random.Weighted(kinds, k => k.Frequency), random) is { } defect && defects.All(d => AreApart(d, defect, sound.Engine)))
            {
                defects.Add(defect);
            }
        }

        return defects.Count == faults ? defects.ToImmutable() : null;
    }

    private static bool AreApart(Defect one, Defect other, Engine engine) => one.Kind != other.Kind
        && !Mending.Mends(one.Kind.Cause, one.At, other, engine) && !Mending.Mends(other.Kind.Cause, other.At, one, engine);

    // How bad it is gets drawn again until it makes a misfire; its kind stays, so that the frequencies hold.
    private static Defect? Misfiring(EngineState sound, FaultKind kind, Random random)
    {
        var places = kind.Places(sound.Engine).ToArray();
        for (var i = 0; i < SeverityDraws && places.Length > 0; i++)
        {
            var defect = new Defect(kind, random.Of(places), random.Next());
            if (MakesMisfire(sound, defect))
            {
                return defect;
            }
        }

        return null;
    }

    private static bool MakesMisfire(EngineState sound, Defect defect) => new Driving(PhysicsCar.Harmed(sound, [defect])).Misfires;

    private static PhysicsCar Arrive(EngineState sound, ImmutableArray<Defect> defects, ReaderError error, int seed)
    {
        var driving = new Driving(PhysicsCar.Harmed(sound, defects));
        var random = Chance.Stream(seed, "arrives");
        var codes = new CodeStore(driving, random).Codes();
        return new PhysicsCar(sound, defects, Concern(driving, codes, random), codes, new Reader(error), seed);
    }

    // Most cars were scanned at the counter; the customer names conditions, not all of them right. A sound engine that shakes brings no code.
    private static Concern Concern(Driving driving, ImmutableArray<string> codes, Random random)
    {
        var worst = Condition.All.Where(c => !c.Wet).Max(c => driving.At(c).Cylinders.Average(f => f.Misfire));
        var lamp = codes.IsEmpty ? Lamp.Off : worst > 0.08 && random.Happens(0.7) ? Lamp.Flashing : Lamp.Steady;
        return new Concern
        {
            Codes = random.Happens(0.6) ? codes : [],
            Lamp = lamp,
            When = driving.Misfires ? driving.Words(random, named: 0.55, slip: 0.03) : [random.Of(["idle", "load"])],
        };
    }
}
