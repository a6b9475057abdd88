using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.VirtualCars.Cars.Physics.Faults;

/// <summary>Faults of valves, rings, pistons, gaskets and timing.</summary>
internal static class MechanicalFaults
{
    public static IEnumerable<FaultKind> All =>
    [
        FaultKind.AtCylinder("exhaust-valve-leak", (_, c, r) => c.ExhaustValveLeakMm2 = LogBetween(r, 2.5, 22)),
        FaultKind.AtCylinder("intake-valve-leak", (_, c, r) => c.IntakeValveLeakMm2 = LogBetween(r, 3, 22)),
        FaultKind.AtCylinder("rings-worn", (s, c, r) => Rings(s, c, r)),
        FaultKind.AtCylinder("piston-damaged", (_, c, r) => Piston(c, r)),
        new("head-gasket-neighbours", e => e.NeighbourPairs, GasketBetween),
        FaultKind.AtCylinder("head-gasket-coolant", (_, c, r) => GasketCoolant(c, r)),
        FaultKind.AtCylinder("valve-lift-lost", (_, c, r) => LiftLost(c, r)),
        FaultKind.AtCylinder("valve-clearance-tight", (_, c, r) => Tight(c, r), e => e.Spec.Lash != ValveLash.Hydraulic),
        FaultKind.AtCylinder("valve-spring-weak", (_, c, r) => c.SpringWeakness = r.Between(0.6, 1)),
        FaultKind.AtCylinder("valve-deposits", (s, c, r) => Deposits(s, c, r)),
        new("cam-timing-off", e => Enumerable.Range(1, e.Banks.Length).Select(Place.Bank), CamOff),
    ];

    private static double LogBetween(Random r, double low, double high) => Math.Exp(r.Between(Math.Log(low), Math.Log(high)));

    // Rings wear on all cylinders; one is worst.
    private static void Rings(EngineState s, CylinderState c, Random r)
    {
        foreach (var other in s.Cylinders)
        {
            other.RingLeakMm2 += r.Between(0.05, 0.35);
        }

        c.RingLeakMm2 = LogBetween(r, 3, 15);
        c.WallScored = r.Happens(0.4);
        c.ShuntMegohm = Math.Exp(r.Between(Math.Log(0.15), Math.Log(10)));
        c.Mark = r.Happens(0.75) ? PlugMark.Oil : PlugMark.None;
    }

    private static void Piston(CylinderState c, Random r)
    {
        c.HoleMm2 = LogBetween(r, 6, 80);
        c.PistonBroken = true;
        c.Mark = r.Happens(0.6) ? PlugMark.Hammered : PlugMark.Oil;
    }

    private static void GasketBetween(EngineState s, Place at, Random r)
    {
        var area = LogBetween(r, 3, 25);
        foreach (var cylinder in s.Engine.CylindersAt(at))
        {
            s[cylinder].NeighbourLeakMm2 = area * r.Between(0.85, 1.1);
        }
    }

    private static void GasketCoolant(CylinderState c, Random r)
    {
        c.CoolantLeakMm2 = r.Between(0.12, 1.4);
        c.Mark = r.Happens(0.8) ? PlugMark.Coolant : PlugMark.None;
    }

    private static void LiftLost(CylinderState c, Random r)
    {
        if (r.Happens(0.5))
        {
            c.IntakeLift = r.Between(0, 0.2);
        }
        else
        {
            c.ExhaustLift = r.Between(0, 0.2);
        }
    }

    private static void Tight(CylinderState c, Random r)
    {
        if (r.Happens(0.75))
        {
            c.ExhaustClearanceMm = r.Between(-0.12, 0.04);
        }
        else
        {
            c.IntakeClearanceMm = r.Between(-0.12, 0.02);
        }
    }

    private static void Deposits(EngineState s, CylinderState c, Random r)
    {
        foreach (var other in s.Cylinders)
        {
            other.Deposits = Math.Max(other.Deposits, r.Between(0.2, 0.5));
        }

        c.Deposits = r.Between(0.75, 1.4);
    }

    private static void CamOff(EngineState s, Place at, Random r)
    {
        var degrees = r.Between(12, 40) * (r.Happens(0.7) ? 1 : -1);
        s.CamOff = s.CamOff.SetItem(at.First - 1, degrees);
    }
}
