using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.VirtualCars.Cars.Physics;

/// <summary>
/// Draws a sound engine: no two cylinders quite alike, and what a used car has of harmless wear (old plugs, a little leakage, injectors a few percent
/// down) to lead the technician astray.
/// </summary>
internal static class SoundEngine
{
    public static EngineState Draw(Engine engine, Random random)
    {
        var build = DrawBuild(engine, random);
        var state = new EngineState
        {
            Engine = engine,
            Build = build,
            Cylinders = [.. engine.Cylinders.Select(n => new CylinderState { Number = n })],
            CamOff = [.. engine.Banks.Select(_ => random.Normal(0, 0.8))],
            SystemVolts = random.Between(13.7, 14.5),
            GroundDropVolts = random.Between(0.02, 0.09),
            RailShare = random.Normal(1, 0.015),
            RailHolds = random.Happens(0.07) ? random.Between(0.55, 0.85) : random.Between(0.9, 0.99),
            AirflowErrorLow = random.Normal(0, 0.02),
            AirflowErrorHigh = random.Normal(0, 0.02),
            CommonLeakMm2 = random.Happens(0.12) ? random.Between(0.1, 0.35) : random.Between(0, 0.1),
            RecentWork = random.Happens(0.06),
            Restriction = [.. engine.Banks.Select(_ => random.Between(0, 0.06))],
        };
        var plugs = random.Happens(Math.Min(0.55, build.Kilometres / 400000)) ? random.Between(0.15, 0.5) : random.Between(0, 0.12);
        var leak = random.Happens(0.25) ? random.Between(0.2, 0.45) : 0;
        var dirt = random.Happens(0.3) ? random.Between(0.02, 0.05) : 0;
        foreach (var c in state.Cylinders)
        {
            Vary(c, engine, random, plugs, leak, dirt);
        }

        return state;
    }

    private static Build DrawBuild(Engine engine, Random random)
    {
        // The maker's figure lies in the middle of the engine's own limits.
        var (least, most) = (engine.Spec.Limits.GetValueOrDefault("fuel-pressure-min-kpa", 330), engine.Spec.Limits.GetValueOrDefault("fuel-pressure-max-kpa", 390));
        return new Build(
            CompressionKPa: random.Between(1120, 1420),
            RailKPa: (least + most) / 2,
            MetersAir: engine.Injection != Injection.ThrottleBody && random.Happens(0.75),
            HasEgr: random.Happens(0.65),
            Hydraulic: IsHydraulic(engine.Spec.Lash, random.Happens(0.6)),
            CoilsMeasurable: engine.Ignition != Ignition.CoilOnPlug || random.Happens(0.4),
            CoilCodes: engine.Ignition != Ignition.Distributor && random.Happens(0.6),
            HoldsTrims: random.Happens(0.5),
            Kilometres: random.Between(40000, 260000));
    }

    private static void Vary(CylinderState c, Engine engine, Random random, double plugWear, double leak, double dirt)
    {
        c.CoilKilovolts = random.Normal(38, 1.3);
        c.CoilShareHot = random.Between(0.94, 1);
        c.GapMm = random.Normal(1.0, 0.03) + (plugWear * random.Between(0.6, 1));
        c.ElectrodeFactor = 1 + (plugWear * random.Between(0.2, 0.4));
        c.ShuntMegohm = random.Happens(0.1) ? random.Between(8, 40) : random.Between(60, 500);
        c.Flow = random.Normal(1 - dirt, 0.012);
        c.Drip = random.Happens(0.03) ? random.Between(0.01, 0.04) : 0;
        c.InjectorOhm = engine.Injection == Injection.Direct ? random.Normal(1.7, 0.03) : random.Normal(12.4, 0.12);
        c.RunnerLeakMm2 = random.Happens(0.04) ? random.Between(0.03, 0.15) : 0;
        c.IntakeLift = random.Normal(1, 0.012);
        c.ExhaustLift = random.Normal(1, 0.012);
        c.IntakeClearanceMm = random.Normal(0.20, 0.015);
        c.ExhaustClearanceMm = random.Normal(0.28, 0.02);
        c.Deposits = random.Between(0, engine.Injection == Injection.Direct ? 0.5 : 0.2);
        c.RingLeakMm2 = random.Between(0.22, 0.42) + (leak * random.Between(0.6, 1.2));
        c.IntakeValveLeakMm2 = random.Between(0, 0.05) + (random.Happens(0.05) ? leak * 0.6 : 0);
        c.ExhaustValveLeakMm2 = random.Between(0, 0.07) + (random.Happens(0.07) ? leak * 0.8 : 0);
        c.LeadKilovolts = engine.Ignition == Ignition.CoilOnPlug ? 0 : random.Between(0.3, 1.5);
    }

    // Where the engine does not say how the play of its valves is kept, the car decides.
    private static bool IsHydraulic(ValveLash said, bool drawn) => said == ValveLash.Unknown ? drawn : said == ValveLash.Hydraulic;
}
