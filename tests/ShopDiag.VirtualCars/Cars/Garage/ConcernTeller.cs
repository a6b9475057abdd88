using System.Collections.Immutable;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.VirtualCars.Cars.Garage;

/// <summary>What the customer says at the counter: half of it, in his own order, and not all of it right. Chances made-up.</summary>
internal static class ConcernTeller
{
    private static readonly string[] Words = ["idle", "load", "cold", "hot", "wet"];

    /// <summary>Work that is often followed by these faults (common practice).</summary>
    private static readonly ImmutableArray<string> AfterWork =
        ["plug-wire-open", "plug-cracked", "intake-leak-runner", "intake-leak-common", "cam-timing-off", "valve-clearance-tight", "coil-control-lost", "injector-control-lost"];

    /// <summary>Tells it.</summary>
    public static Concern Tell(Visit car, ImmutableArray<string> codes) => new()
    {
        // Not every advisor hangs a scan tool on before the order is written.
        Codes = car.Dice.Chance(0.8) ? codes : [],
        Lamp = LampOf(car, codes),
        When = [.. Conditions(car).Distinct()],
    };

    private static IEnumerable<string> Conditions(Visit car)
    {
        if (car.Dice.Chance(AfterWork.Intersect(car.Left.Select(f => f.Kind.Cause)).Any() ? 0.22 : 0.05))
        {
            yield return "after-work";
        }

        if (car.Dice.Chance(0.12))
        {
            yield break;
        }

        if (car.Dice.Chance(0.08))
        {
            yield return car.Dice.OneOf(Words);
        }

        foreach (var word in car.Shakes ? Shaking(car) : Named(car))
        {
            yield return word;
        }
    }

    // What comes from mounts, tyres or the road is felt when pulling or when the drive is warm, and told like a misfire.
    private static IEnumerable<string> Shaking(Visit car) => [car.Dice.Weighted(new[] { "load", "idle", "hot", "always", "cold" }, w => w == "load" ? 4 : 1.3)];

    private static IEnumerable<string> Named(Visit car)
    {
        var duties = Duty.Conditions.Select(c => car.Engine.Cylinders.Max(cylinder => car.DutyOf(cylinder)[c])).ToArray();
        var most = duties.Max();
        if (duties.Min() > 0.6 * most && car.Dice.Chance(0.65))
        {
            return ["always"];
        }

        // Idle and load are felt every day; who can say whether rain had to do with it.
        return Words.Where((_, i) => duties[i] > 0.55 * most && car.Dice.Chance(i < 3 ? 0.75 : 0.5));
    }

    private static Lamp LampOf(Visit car, ImmutableArray<string> codes)
    {
        if (car.Dice.Chance(0.12))
        {
            return Lamp.Unknown;
        }

        // Five in a hundred of all firings endanger the catalyst (13 CCR 1968.2(e)(3), from memory).
        var share = car.Engine.Cylinders.Average(c => car.DutyOf(c).Most);
        return codes.IsEmpty ? Lamp.Off : share > 0.05 && car.Dice.Chance(0.5) ? Lamp.Flashing : Lamp.Steady;
    }
}
