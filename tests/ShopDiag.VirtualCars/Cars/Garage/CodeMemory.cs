using System.Collections.Immutable;
using System.Globalization;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.VirtualCars.Cars.Garage;

/// <summary>
/// What the engine computer has stored: often right, sometimes late, sometimes laid to the wrong cylinder, sometimes left over from
/// another year. Chances made-up; codes by SAE J2012 / ISO 15031-6.
/// </summary>
internal static class CodeMemory
{
    // Codes name no cylinder above 12.
    private const int LastCylinder = 12;

    private static readonly string[] LeftOver = ["P0420", "P0442", "P0455", "P0128", "P0507", "P0171", "P0401", "P0300", "P0133", "P0430"];

    /// <summary>Draws the memory for what is wrong with the car.</summary>
    public static ImmutableArray<string> Draw(Visit car)
    {
        var codes = new SortedSet<string>(StringComparer.Ordinal);
        // Older systems know of no single cylinder.
        var old = car.Engine.Ignition == Ignition.Distributor || car.Engine.Injection == Injection.ThrottleBody;
        if (!old || car.Dice.Chance(0.4))
        {
            AddMisfires(car, codes);
        }

        if (!old)
        {
            AddCircuits(car, codes);
        }

        AddMixture(car, codes);
        AddEngine(car, codes);
        if (car.Dice.Chance(0.22))
        {
            codes.Add(car.Dice.OneOf(LeftOver));
        }

        if (!old && car.Dice.Chance(0.07))
        {
            codes.Add(Numbered("P03", car.Dice.Whole(1, Math.Min(LastCylinder, car.Engine.CylinderCount))));
        }

        return [.. codes];
    }

    private static void AddMisfires(Visit car, SortedSet<string> codes)
    {
        foreach (var cylinder in car.Engine.Cylinders)
        {
            var duty = car.DutyOf(cylinder);
            var busy = Math.Max(Math.Max(duty.Idle, duty.Load), Math.Max(0.7 * duty.Cold, Math.Max(0.8 * duty.Hot, 0.4 * duty.Wet)));
            if (car.Dice.Chance(busy > 0.15 ? 0.88 : busy > 0.05 ? 0.5 : 0))
            {
                AddOne(car, codes, car.Dice.Chance(0.1) ? NextInOrder(car.Engine, cylinder) : cylinder);
            }
        }

        if (car.Dice.Chance(codes.Count >= 2 ? 0.6 : car.Shakes ? 0.25 : 0.12) || car.Dice.Chance(0.5 * car.Body.Common.CrankSignalLoss))
        {
            codes.Add("P0300");
        }
    }

    private static void AddOne(Visit car, SortedSet<string> codes, int cylinder)
    {
        if (cylinder <= LastCylinder)
        {
            codes.Add(Numbered("P03", cylinder));
        }
        else
        {
            codes.Add("P0300");
        }

        // A hard shake drags another cylinder in.
        if (car.Dice.Chance(0.06))
        {
            codes.Add(Numbered("P03", Math.Min(LastCylinder, NextInOrder(car.Engine, cylinder))));
        }
    }

    private static void AddCircuits(Visit car, SortedSet<string> codes)
    {
        foreach (var cylinder in car.Engine.Cylinders.Where(c => c <= LastCylinder))
        {
            var c = car.Body[cylinder];
            var primary = c.PrimaryOff is > 50 or < -0.5 || c.FeedLoss > 0.8 || c.ControlLoss > 0.8;
            if (CoilNumber(car.Engine, cylinder) is { } coil && car.Dice.Chance(primary ? 0.6 : c.SparkLoss > 0.6 ? 0.12 : 0))
            {
                codes.Add(Numbered("P03", 50 + coil));
            }

            var injector = c.InjectorOff is > 50 or < -0.9 || c.PulseLoss > 0.8 || c.HeldOn > 0.5;
            if (car.Dice.Chance(injector ? 0.65 : 0))
            {
                codes.Add(Numbered("P02", cylinder));
            }
        }
    }

    private static void AddMixture(Visit car, SortedSet<string> codes)
    {
        for (var bank = 1; bank <= Math.Min(2, car.Engine.Banks.Length); bank++)
        {
            var misses = car.Engine.Banks[bank - 1].Average(car.AtIdle) * 38;
            var excess = car.Engine.Banks[bank - 1].Average(c => car.Body[c].FuelExcess) * 38;
            var trim = Math.MaxMagnitude(car.Body.Bank(bank).TrimIdle, car.Body.Bank(bank).TrimFast) + misses - excess;
            if (trim > 12 && car.Dice.Chance(trim > 20 ? 0.6 : 0.22))
            {
                codes.Add(bank == 1 ? "P0171" : "P0174");
            }
            else if (trim < -11 && car.Dice.Chance(trim < -18 ? 0.55 : 0.2))
            {
                codes.Add(bank == 1 ? "P0172" : "P0175");
            }
        }
    }

    private static void AddEngine(Visit car, SortedSet<string> codes)
    {
        var common = car.Body.Common;
        Add("P0335", 0.5 * common.CrankSignalLoss);
        Add("P0336", 0.35 * common.CrankSignalLoss);
        Add("P0402", 0.3 * common.EgrOpen);
        Add("P0562", common.SupplyDropVolts > 0.8 ? 0.4 : 0);
        Add("P0087", car.Engine.Injection == Injection.Direct && common.PressureLoss > 0.25 ? 0.4 : 0);
        Add("P0101", car.Left.Any(f => f.Kind.Cause == "airflow-signal-wrong") ? 0.35 : 0);
        Add("P0016", car.Body.Bank(1).CamOff > 0.5 ? 0.45 : 0);
        Add("P0018", car.Body.Banks.Skip(1).Any(b => b.CamOff > 0.5) ? 0.45 : 0);

        void Add(string code, double chance)
        {
            if (car.Dice.Chance(chance))
            {
                codes.Add(code);
            }
        }
    }

    // Shared coils are numbered by their pair, which makers do not all keep to; a distributor's one coil has no letter for a cylinder.
    private static int? CoilNumber(Engine engine, int cylinder) => engine.Ignition switch
    {
        Ignition.CoilOnPlug or Ignition.CoilNearPlug => cylinder,
        Ignition.WasteSpark => Enumerable.Range(0, engine.CompanionPairs.Length)
            .Where(i => engine.CylindersAt(engine.CompanionPairs[i]).Contains(cylinder)).Select(i => (int?)(i + 1)).FirstOrDefault(),
        _ => null,
    };

    private static int NextInOrder(Engine engine, int cylinder) =>
        engine.FiringOrder[(engine.FiringPosition(cylinder) + 1) % engine.CylinderCount];

    private static string Numbered(string start, int number) => start + number.ToString("00", CultureInfo.InvariantCulture);
}
