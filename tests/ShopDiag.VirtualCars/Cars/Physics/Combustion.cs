using System.Collections.Immutable;

namespace ShopDiag.VirtualCars.Cars.Physics;

/// <summary>How one cylinder burns at a condition.</summary>
/// <param name="Misfire">Share of cycles without combustion.</param>
/// <param name="Lambda">Air over what the fuel needs.</param>
/// <param name="Push">Work of a cycle that burns, 1 for a sound cylinder.</param>
/// <param name="NoSpark">Share of cycles without a spark.</param>
internal readonly record struct Firing(double Misfire, double Lambda, double Push, double NoSpark)
{
    /// <summary>What it adds on average.</summary>
    public double Contribution => Push * (1 - Misfire);
}

/// <summary>The engine at one condition: each cylinder's combustion and each bank's correction of the mixture.</summary>
internal sealed record Running(ImmutableArray<Firing> Cylinders, ImmutableArray<double> Trims)
{
    public Firing this[int cylinder] => Cylinders[cylinder - 1];

    /// <summary>The worst cylinder's share of misfires.</summary>
    public double Worst => Cylinders.Max(c => c.Misfire);
}

/// <summary>
/// Combustion by physics: a cycle burns when the spark comes, the mixture lies within its limits (which burnt gas and cold narrow), the charge is
/// compressed enough, and the fuel is fuel. The computer corrects each bank by the oxygen it sees, that of dead cylinders included.
/// </summary>
internal static class Combustion
{
    /// <summary>How far the computer can correct.</summary>
    public const double TrimLimit = 0.25;

    /// <summary>Share of the unburnt fuel of a misfire that hides its oxygen from the sensor.</summary>
    private const double FuelHidesOxygen = 0.35;

    public static Running At(EngineState engine, Condition at)
    {
        var trims = engine.Engine.Banks.Select(bank => Trim(engine, at, bank)).ToImmutableArray();
        return new Running(
            [.. engine.Cylinders.Select(c => Burn(engine, c, at, trims[engine.Engine.BankOf(c.Number) - 1]))], trims);
    }

    /// <summary>The first seconds after fuel gas is fed in with the air, before the computer takes it back: as <see cref="At"/>, with so much fuel for each charge of air on top.</summary>
    public static Running Enriched(EngineState engine, Condition at, double gas)
    {
        var trims = engine.Engine.Banks.Select(bank => Trim(engine, at, bank)).ToImmutableArray();
        return new Running([.. engine.Cylinders.Select(c => Burn(engine, c, at, trims[engine.Engine.BankOf(c.Number) - 1], gas))], trims);
    }

    private static double Trim(EngineState engine, Condition at, ImmutableArray<int> bank)
    {
        if (!at.ClosedLoop)
        {
            // What was learned while the sensor was listened to is kept, in part.
            return 0.8 * Trim(engine, at.MapKPa > 60 || at.Rpm > 1500 ? Condition.Speed : Condition.Idle, bank);
        }

        var (low, high) = (-TrimLimit, TrimLimit);
        for (var i = 0; i < 18; i++)
        {
            var middle = (low + high) / 2;
            (low, high) = Oxygen(engine, at, bank, middle) > 0 ? (middle, high) : (low, middle);
        }

        return (low + high) / 2;
    }

    // Oxygen left over (positive) or lacking (negative) in the exhaust of a bank, in units of a cylinder's charge.
    private static double Oxygen(EngineState engine, Condition at, ImmutableArray<int> bank, double trim)
    {
        var sum = 0.0;
        foreach (var cylinder in bank)
        {
            var (air, fuel) = Charge(engine, engine[cylinder], at, trim);
            var misfire = Burn(engine, engine[cylinder], at, trim).Misfire;
            // A computer that knows of the misfire does not follow its oxygen all the way.
            var seen = engine.Build.HoldsTrims ? 0.25 : 1;
            sum += ((1 - misfire) * (air - fuel)) + (misfire * seen * (air - (FuelHidesOxygen * fuel)));
        }

        return sum;
    }

    /// <summary>Air and fuel of one cycle, in units of a sound cylinder's charge; equal where lambda is 1.</summary>
    public static (double Air, double Fuel) Charge(EngineState engine, CylinderState c, Condition at, double trim)
    {
        var sound = Breathing.SoundAir(at);
        var others = engine.Cylinders.Sum(o => Breathing.LeakAir(o.RunnerLeakMm2, at.MapKPa) * 0.25);
        var shared = (Breathing.LeakAir(engine.CommonLeakMm2, at.MapKPa) + others) / engine.Engine.CylinderCount / sound;
        var own = Breathing.LeakAir(c.RunnerLeakMm2, at.MapKPa) * 0.75 / sound;
        var filling = Breathing.Filling(engine, c, at.Rpm);
        var air = Math.Max(0.01, filling + own + shared);

        var load = Math.Clamp((at.MapKPa - 40) / 50, 0, 1);
        var error = engine.AirflowErrorLow + ((engine.AirflowErrorHigh - engine.AirflowErrorLow) * load);
        var bankFilling = engine.Cylinders.Average(o => Breathing.Filling(engine, o, at.Rpm));
        var known = engine.Build.MetersAir ? bankFilling : 1 + (shared * 0.7);
        var enriched = at.ClosedLoop ? 1 : at.Coldness > 0 ? 1 + (0.12 * at.Coldness) : 1.12;
        var flowing = load > 0.5 || at.Rpm > 4000 ? engine.RailShareAtFlow : 1;
        var volts = 1 - (0.018 * Math.Max(0, 13.8 - engine.SystemVolts + engine.GroundDropVolts));
        var pulses = c.InjectorSteadyOn ? 0.05 : c.InjectorControl * (1 - (c.InjectorDropoutHot * Math.Clamp((at.CoilCelsius - 60) / 50, 0, 1)));
        var driven = c.InjectorWinding switch { Winding.Open => 0, Winding.ShortedTurns => Math.Min(c.Flow, 0.35), _ => c.Flow };
        // Deposits on the valve soak up fuel while they are cold.
        var soaked = 1 - (c.Deposits * 0.35 * at.Coldness);
        var fuel = known * (1 + error) * enriched * (1 + trim) * driven * pulses * Math.Sqrt(engine.RailShare * flowing) * volts * soaked;
        return (air, fuel + (c.Drip / Math.Max(1, at.MapKPa / 33 * at.Rpm / 750)));
    }

    private static Firing Burn(EngineState engine, CylinderState c, Condition at, double trim, double gas = 0)
    {
        var (air, fuel) = Charge(engine, c, at, trim);
        fuel += gas * air;
        var lambda = fuel < 0.01 ? 9 : air / fuel;
        var residual = Breathing.Residual(engine, c, at);
        var kept = Breathing.Kept(c.Leak(at.CoolantCelsius > 60), at.Rpm);
        var filling = Breathing.Filling(engine, c, at.Rpm);

        var noSpark = Spark.Failure(engine, c, at, filling * kept, Math.Min(lambda, 2));
        var poorFuel = 1 - engine.FuelQuality;
        var leanest = 1.58 - (1.55 * residual) - (0.06 * at.Coldness) - (0.75 * poorFuel);
        var lean = Chance.Step(lambda - leanest, 0.035);
        var rich = Chance.Step(0.60 - lambda, 0.025);
        var diluted = Chance.Step(residual - (0.345 - (0.25 * poorFuel)), 0.018);
        var slack = Chance.Step(0.56 - (kept * Math.Min(1, filling)), 0.03);
        var water = engine.WaterInFuel ? 0.35 * poorFuel * (at.MapKPa > 60 ? 1.3 : 1) : 0;
        var coolant = c.CoolantLeakMm2 > 0 ? Math.Clamp(c.CoolantLeakMm2 * (0.04 + (0.75 * at.Coldness)), 0, 0.9) : 0;
        var burns = (1 - noSpark) * (1 - lean) * (1 - rich) * (1 - diluted) * (1 - slack) * (1 - water) * (1 - coolant);
        var push = Math.Min(air, 1.1 * Math.Max(fuel, 0.001)) * Math.Exp(-0.05 * c.Leak(true) * Math.Sqrt(750 / at.Rpm)) * (1 - (0.6 * Math.Max(0, residual - 0.16)));
        return new Firing(1 - burns, lambda, push, noSpark);
    }
}
