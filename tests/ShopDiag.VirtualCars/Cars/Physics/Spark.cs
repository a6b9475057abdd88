using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.VirtualCars.Cars.Physics;

/// <summary>What the spark needs and what the ignition gives, in kilovolts.</summary>
internal static class Spark
{
    /// <summary>Resistance of coil, lead and plug resistor beside which a dirty insulator divides the voltage.</summary>
    private const double SourceMegohm = 0.9;

    private const double ScatterOfDemand = 0.09;

    /// <summary>
    /// Breakdown of the plug's gap at the moment of ignition: the empirical formula of a uniform field, 24.22 x + 6.08 sqrt(x), with the density of
    /// the charge compressed to that moment. 1 mm at 5.6 atmospheres and 600 K gives about 10 kV, as plugs take at idle.
    /// </summary>
    public static double Demand(CylinderState c, Condition condition, double chargeShare, double lambda)
    {
        var kPa = condition.MapKPa * chargeShare * Math.Pow(8.2, 1.3);
        var density = 293 * (kPa / 101.3) * (c.GapMm / 10) / 620;
        var lean = 1 + (0.35 * Math.Clamp(lambda - 1.05, 0, 0.6));
        return ((24.22 * density) + (6.08 * Math.Sqrt(Math.Max(0, density)))) * c.ElectrodeFactor * lean * (1 + (0.12 * condition.Coldness));
    }

    /// <summary>What reaches the plug's gap at most, before anything is lost on the way.</summary>
    public static double FromCoil(EngineState engine, CylinderState c, double coilCelsius)
    {
        var volts = engine.SystemVolts - engine.GroundDropVolts - c.FeedDropVolts;
        var energy = Math.Pow(Math.Clamp(volts / 13.8, 0, 1.1), 1.4);
        var hot = Math.Clamp((coilCelsius - 70) / 48, 0, 1);
        return c.CoilKilovolts * energy * (1 - ((1 - c.CoilShareHot) * hot));
    }

    /// <summary>What is left for the plug: lead, flashover along the boot and the shunt of a dirty insulator take their part.</summary>
    public static double Available(EngineState engine, CylinderState c, Condition condition)
    {
        var kilovolts = FromCoil(engine, c, condition.CoilCelsius) - c.LeadKilovolts;
        var flashover = c.FlashoverKilovolts * (condition.Wet ? c.FlashoverShareWet : 1);
        var shunted = kilovolts * c.ShuntMegohm / (c.ShuntMegohm + SourceMegohm);
        return Math.Max(0, Math.Min(shunted, flashover));
    }

    /// <summary>Share of firings without a spark in the cylinder.</summary>
    public static double Failure(EngineState engine, CylinderState c, Condition condition, double chargeShare, double lambda)
    {
        var demand = Demand(c, condition, chargeShare, lambda);
        var available = Available(engine, c, condition);
        var hot = Math.Clamp((condition.CoilCelsius - 85) / 33, 0, 1);
        var crank = engine.CrankDropout + (engine.CrankDropoutHot * hot);
        // A neighbour's spark comes in another stroke and lights nothing, unless the two share their sparks anyway.
        var own = c.CrossedWith == 0 || (engine.Engine.Ignition == Ignition.WasteSpark && engine.Engine.Companion(c.Number) == c.CrossedWith) ? 1 : 0;
        var given = own * (1 - c.CoilDropout) * c.FeedPresent * c.ControlPresent * (1 - crank);
        return 1 - (given * (1 - Chance.Step(demand - available, ScatterOfDemand * demand * 0.55)));
    }

    /// <summary>Share of the sparks that jump a tester's gap on the bench, and whether they do so with strength to spare.</summary>
    public static (double Share, double Spare) OnTester(EngineState engine, CylinderState c, double gapKilovolts)
    {
        var kilovolts = FromCoil(engine, c, 75) - c.LeadKilovolts;
        var reach = c.FlashesOverInTheOpen ? Math.Min(kilovolts, c.FlashoverKilovolts) : kilovolts;
        var given = (1 - c.CoilDropout) * c.FeedPresent * c.ControlPresent * (1 - engine.CrankDropout);
        return (given * (1 - Chance.Step(gapKilovolts - reach, 0.04 * gapKilovolts)), reach / gapKilovolts);
    }
}
