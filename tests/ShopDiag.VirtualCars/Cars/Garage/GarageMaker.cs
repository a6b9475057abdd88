using System.Collections.Immutable;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.VirtualCars.Cars.Garage.Faults;

namespace ShopDiag.VirtualCars.Cars.Garage;

/// <summary>
/// The second maker of cars: faults by severity and duty instead of physics, long-tailed instruments, biased shops, worn engines and frequencies
/// of its own. It is kept apart from the first so that what was learnt from that one can be seen to hold elsewhere.
/// </summary>
public sealed class GarageMaker : ICarMaker
{
    /// <inheritdoc/>
    public string Name => "two";

    /// <inheritdoc/>
    public IVirtualCar Make(Engine engine, int faults, ReaderError error, Random random)
    {
        ArgumentNullException.ThrowIfNull(engine);
        ArgumentNullException.ThrowIfNull(random);
        ArgumentOutOfRangeException.ThrowIfLessThan(faults, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(faults, 2);
        // Neighbouring seeds start alike: mixed, they do not.
        var dice = Dice.For(random.Next(), Name, random.Next() >> 4);
        return new GarageCar(engine, Faults(engine, faults, dice), error, dice);
    }

    /// <summary>The causes that a car with this engine can have, a sound one among them.</summary>
    public static ImmutableSortedSet<string> CausesOn(Engine engine) =>
        [.. FaultBook.On(engine).Select(k => k.Cause), FaultBook.Sound];

    private static ImmutableArray<GarageFault> Faults(Engine engine, int count, Dice dice)
    {
        var kinds = FaultBook.On(engine);
        // Two faults are two faults: a sound engine is no half of a pair.
        if (count == 1 && dice.Chance(FaultBook.SoundWeight / (FaultBook.SoundWeight + kinds.Sum(k => k.Weight))))
        {
            return [];
        }

        var first = GarageFault.Draw(dice.Weighted(kinds, k => k.Weight), engine, dice);
        return count == 1 ? [first] : [first, Second(kinds, first, engine, dice)];
    }

    // Not the same again, nor one that the first one's repair would mend along with it.
    private static GarageFault Second(ImmutableArray<FaultKind> kinds, GarageFault first, Engine engine, Dice dice)
    {
        while (true)
        {
            var second = GarageFault.Draw(dice.Weighted(kinds, k => k.Weight), engine, dice);
            if (!Mending.Mends(first.Kind.Cause, first.At, second, engine) && !Mending.Mends(second.Kind.Cause, second.At, first, engine))
            {
                return second;
            }
        }
    }
}
