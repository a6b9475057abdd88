namespace ShopDiag.VirtualCars.Cars.Physics;

/// <summary>Air into the cylinder and what leaks out of it.</summary>
internal static class Breathing
{
    /// <summary>Flow in g/s through 1 mm2 from the outside into a manifold at high vacuum: choked flow of air at 101 kPa and 20 C, coefficient 0.8.</summary>
    private const double LeakGramsPerMm2 = 0.191;

    /// <summary>Swept volume of one cylinder in m3; the cars of the bench are alike enough in this.</summary>
    private const double Swept = 0.0005;

    /// <summary>Share of the stroke's charge lost to 1 mm2 at 220 rpm, from choked flow out of a 500 cm3 cylinder near top dead centre.</summary>
    private const double LossPerMm2AtCranking = 0.115;

    /// <summary>Air in g/s that one sound cylinder takes at a condition.</summary>
    public static double SoundAir(Condition at) => 0.75 * at.MapKPa * 1000 * Swept / (287 * 310) * at.Rpm / 120 * 1000;

    /// <summary>Air in g/s through a leak into the manifold: choked up to half the outside pressure, then falling to nothing.</summary>
    public static double LeakAir(double mm2, double mapKPa)
    {
        var ratio = mapKPa / 101.3;
        return mm2 * LeakGramsPerMm2 * (ratio < 0.53 ? 1 : Math.Sqrt(Math.Max(0, 1 - Math.Pow((ratio - 0.53) / 0.47, 2))));
    }

    /// <summary>How well the cylinder fills, 1 for a sound one: lift, deposits, cam timing and a stopped-up exhaust.</summary>
    public static double Filling(EngineState engine, CylinderState c, double rpm)
    {
        var scale = rpm < 400 ? 0.10 : rpm < 1500 ? 0.15 : 0.30;
        var intake = (1 - Math.Exp(-Math.Max(0, c.IntakeLift) / scale)) / (1 - Math.Exp(-1 / scale));
        var floating = 1 - (c.SpringWeakness * Math.Clamp((rpm - 2600) / 2500, 0, 1) * 0.5);
        var deposits = 1 - (c.Deposits * (rpm > 1500 ? 0.18 : 0.06));
        var cam = 1 - (0.012 * Math.Abs(engine.CamOffAt(c.Number)) * (rpm < 400 ? 1 : 0.8));
        var exhaust = 1 - (engine.RestrictionAt(c.Number) * Math.Clamp(rpm / 4500, 0, 1) * 0.45);
        return Math.Max(0, intake) * floating * deposits * Math.Max(0.2, cam) * exhaust;
    }

    /// <summary>Share of the charge that is still there at the end of compression.</summary>
    public static double Kept(double leakMm2, double rpm) => Math.Exp(-LossPerMm2AtCranking * leakMm2 * Math.Pow(220 / rpm, 0.85));

    /// <summary>
    /// Burnt gas in the charge: what stays in a sound engine, what the EGR lets in, what comes back past leaking valves and rings during intake, and
    /// what an exhaust valve that hardly opens keeps in.
    /// </summary>
    public static double Residual(EngineState engine, CylinderState c, Condition at)
    {
        var residual = at.MapKPa < 60 ? 0.16 : 0.07;
        residual += engine.EgrAtIdle * (at.Name is "idle" or "hot" ? 1 : at.Name == "cold" ? 0.9 : at.Name == "speed" ? 0.55 : 0.15);
        residual += engine.RestrictionAt(c.Number) * Math.Clamp(at.Rpm / 3500, 0, 1) * 0.26;
        residual += Math.Abs(engine.CamOffAt(c.Number)) * (at.MapKPa < 60 ? 0.0055 : 0.002);
        var exhaust = 1 - Math.Exp(-Math.Max(0, c.ExhaustLift) / (at.Rpm < 1500 ? 0.12 : 0.25));
        residual += 0.7 * (1 - exhaust);
        var back = LeakAir(c.ExhaustLeak(true) + (0.35 * (c.RingLeakMm2 + c.HoleMm2 - 0.3)) + (0.6 * c.NeighbourLeakMm2) + (0.5 * c.IntakeLeak(true)), at.MapKPa) * 0.33;
        residual += back / (back + SoundAir(at)) * 0.9;
        return Math.Min(0.95, residual + (c.Deposits * 0.02));
    }
}
