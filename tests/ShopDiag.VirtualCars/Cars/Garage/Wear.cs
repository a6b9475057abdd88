using System.Collections.Immutable;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.VirtualCars.Cars.Garage;

/// <summary>
/// What years have done to the whole engine and what makes no cylinder misfire: it stands in the way of the diagnosis, and goes together in
/// an old car. All numbers made-up; most of the readings stay inside what makers allow.
/// </summary>
internal sealed class Wear
{
    private readonly ImmutableArray<Action<Body>> _marks;

    private Wear(ImmutableArray<Action<Body>> marks) => _marks = marks;

    /// <summary>Compression of a sound cylinder of this engine as it is now, kilopascal.</summary>
    public required double CompressionKPa { get; init; }

    /// <summary>Idle speed as it is set for the tests.</summary>
    public required double IdleRpm { get; init; }

    /// <summary>How many revolutions a sound cylinder's cancelling costs.</summary>
    public required double DropRpm { get; init; }

    /// <summary>How unsteady the idle is, as a factor.</summary>
    public required double Unsteady { get; init; }

    /// <summary>Share of sound firings that the counters count as misfires.</summary>
    public required double FalseCounts { get; init; }

    /// <summary>Manifold vacuum of the sound engine, kilopascal.</summary>
    public required double VacuumKPa { get; init; }

    /// <summary>Exhaust runner of a sound cylinder a minute after a cold start, Celsius.</summary>
    public required double RunnerCelsius { get; init; }

    /// <summary>Where in the maker's range its coils' windings lie, 0 to 1.</summary>
    public required double CoilBuilt { get; init; }

    /// <summary>Valve lift of the camshaft, millimetres.</summary>
    public required (double Intake, double Exhaust) LiftMm { get; init; }

    /// <summary>Writes the wear to a body.</summary>
    public void Mark(Body body)
    {
        foreach (var mark in _marks)
        {
            mark(body);
        }
    }

    /// <summary>Draws the wear of a car.</summary>
    public static Wear Draw(Engine engine, Dice dice)
    {
        // Old cars have old everything: one age drives the chances below.
        var age = dice.Share();
        return new Wear([.. Marks(engine, age, dice)])
        {
            CompressionKPa = dice.Between(1080, 1380) * (1 - (0.13 * age)),
            IdleRpm = dice.Between(780, 980),
            // About 70 rpm on a four, less on more cylinders (common practice).
            DropRpm = 285.0 / engine.CylinderCount * dice.Between(0.75, 1.25),
            Unsteady = dice.Chance(0.12) ? dice.Between(1.8, 3) : dice.Between(0.7, 1.2),
            FalseCounts = (0.0004 + (0.0016 * age * age)) * dice.Factor(0.4),
            VacuumKPa = dice.Between(60, 69) - (3 * age),
            RunnerCelsius = dice.Between(150, 240),
            CoilBuilt = dice.Between(0.3, 0.7),
            LiftMm = (dice.Between(8.3, 10.2), dice.Between(8.0, 9.8)),
        };
    }

    private static IEnumerable<Action<Body>> Marks(Engine engine, double age, Dice dice)
    {
        foreach (var cylinder in engine.Cylinders)
        {
            yield return OneCylinder(cylinder, age, dice);
        }

        if (dice.Chance(0.15 + (0.3 * age)))
        {
            yield return AllPlugs(engine, dice);
        }

        if (dice.Chance(0.1 + (0.3 * age)))
        {
            yield return DirtyInjectors(engine, dice);
        }

        if (dice.Chance(0.1 + (0.12 * age)))
        {
            yield return OneLowCylinder(engine, dice);
        }

        yield return Trims(engine, age, dice);
    }

    // No two cylinders of an old engine are alike.
    private static Action<Body> OneCylinder(int cylinder, double age, Dice dice)
    {
        var rings = (0.035 + (0.07 * age)) * dice.Factor(0.25);
        var seats = 0.012 * dice.Factor(0.5);
        var (intake, exhaust) = (dice.Scatter(0.012), dice.Scatter(0.014));
        var gap = 0.02 + (0.12 * age * dice.Share());
        var deposits = dice.Chance(0.08 + (0.15 * age)) ? dice.Between(0.25, 0.6) : 0;
        var oil = dice.Chance(0.05 + (0.1 * age)) ? dice.Between(0.15, 0.45) : 0;
        var spark = dice.Between(0.02, 0.07 + (0.06 * age));
        return body =>
        {
            var c = body[cylinder];
            c.ToCrankcase = Body.Join(c.ToCrankcase, rings);
            c.ToExhaust = Body.Join(c.ToExhaust, seats);
            c.ToIntake = Body.Join(c.ToIntake, seats);
            (c.IntakeClearanceMm, c.ExhaustClearanceMm) = (c.IntakeClearanceMm + intake, c.ExhaustClearanceMm + exhaust);
            c.GapExtraMm += gap;
            c.SparkLoss = Body.Join(c.SparkLoss, spark);
            c.Inside.Add(("deposits", deposits));
            c.PlugLooks.Add(("oil-fouled", oil));
        };
    }

    private static Action<Body> AllPlugs(Engine engine, Dice dice)
    {
        var strengths = engine.Cylinders.Select(_ => dice.Between(0.35, 0.68)).ToArray();
        var gap = dice.Between(0.08, 0.28);
        return body =>
        {
            foreach (var cylinder in body.Engine.Cylinders)
            {
                body[cylinder].PlugLooks.Add(("worn", strengths[cylinder - 1]));
                body[cylinder].GapExtraMm += gap;
            }
        };
    }

    private static Action<Body> DirtyInjectors(Engine engine, Dice dice)
    {
        var lacks = engine.Cylinders.Select(_ => dice.Between(0, 0.14)).ToArray();
        return body =>
        {
            foreach (var cylinder in body.Engine.Cylinders)
            {
                body[cylinder].FuelLack = Body.Join(body[cylinder].FuelLack, lacks[cylinder - 1]);
            }

            foreach (var bank in body.Banks)
            {
                bank.TrimIdle += 2;
                bank.TrimFast += 2.5;
            }
        };
    }

    // A cylinder that is lower than the rest and yet fires every time: the bait of every checklist.
    private static Action<Body> OneLowCylinder(Engine engine, Dice dice)
    {
        var cylinder = dice.Whole(1, engine.CylinderCount);
        var leak = dice.Between(0.06, 0.16);
        var rings = dice.Chance(0.6);
        return body =>
        {
            var c = body[cylinder];
            (c.ToCrankcase, c.ToExhaust) = rings ? (Body.Join(c.ToCrankcase, leak), c.ToExhaust) : (c.ToCrankcase, Body.Join(c.ToExhaust, leak));
            c.OilSeals = Math.Max(c.OilSeals, rings ? 0.5 : 0);
        };
    }

    private static Action<Body> Trims(Engine engine, double age, Dice dice)
    {
        var common = dice.Scatter(1.8) + (1.5 * age);
        var seep = dice.Chance(0.1 + (0.1 * age)) ? dice.Between(2, 6) : 0;
        var own = engine.Banks.Select(_ => dice.Scatter(1)).ToArray();
        return body =>
        {
            body.Common.VacuumLossKPa += seep * 0.5;
            for (var bank = 1; bank <= engine.Banks.Length; bank++)
            {
                body.Bank(bank).TrimIdle += common + seep + own[bank - 1];
                body.Bank(bank).TrimFast += common + (0.2 * seep) + own[bank - 1];
            }
        };
    }
}
