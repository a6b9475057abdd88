using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.VirtualCars.Cars.Physics.Faults;

/// <summary>Faults of injectors, their wiring and the fuel supply.</summary>
internal static class FuelFaults
{
    public static IEnumerable<FaultKind> All =>
    [
        FaultKind.AtCylinder("injector-clogged", (_, c, r) => Clogged(c, r), OneInjectorEach),
        FaultKind.AtCylinder("injector-leaking", (s, c, r) => Leaking(s, c, r), OneInjectorEach),
        FaultKind.AtCylinder("injector-winding-failed", (_, c, r) => WindingFailed(c, r), OneInjectorEach),
        FaultKind.AtCylinder("injector-control-lost", (_, c, r) => Control(c, r), OneInjectorEach),
        FaultKind.AtCylinder("control-module-driver", Driver, OneInjectorEach),
        FaultKind.AtEngine("fuel-pressure-low", PressureLow),
        FaultKind.AtEngine("fuel-contaminated", Contaminated),
    ];

    private static bool OneInjectorEach(Engine e) => e.Injection != Injection.ThrottleBody;

    private static void Clogged(CylinderState c, Random r)
    {
        c.Flow = r.Between(0.05, 0.72);
        c.NeedleSticks = r.Happens(0.4);
    }

    private static void Leaking(EngineState s, CylinderState c, Random r)
    {
        c.Drip = r.Between(0.35, 1.6);
        c.NeedleSticks = r.Happens(0.3);
        // A drip soots the insulator and lets the rail run down.
        c.ShuntMegohm = Math.Min(c.ShuntMegohm, Math.Exp(r.Between(Math.Log(0.25), Math.Log(30))));
        s.RailHolds = Math.Min(s.RailHolds, 1 - r.Between(0.2, 0.7));
    }

    private static void WindingFailed(CylinderState c, Random r)
    {
        switch (r.NextDouble())
        {
            case < 0.55:
                c.InjectorWinding = Winding.Open;
                break;
            case < 0.85:
                c.InjectorWinding = Winding.ShortedTurns;
                c.InjectorOhm *= r.Between(0.02, 0.6);
                break;
            default:
                c.InjectorDropoutHot = r.Between(0.4, 1);
                c.InjectorOhm *= r.Between(1.15, 1.8);
                break;
        }
    }

    private static void Control(CylinderState c, Random r)
    {
        if (r.Happens(0.15))
        {
            c.InjectorSteadyOn = true;
            c.Drip = 2.5;
            return;
        }

        c.InjectorControl = r.Happens(0.7) ? 0 : r.Between(0.2, 0.85);
    }

    // The driver in the computer: of the coil where each cylinder has its own, else of the injector.
    private static void Driver(EngineState s, CylinderState c, Random r)
    {
        if (s.Engine.Ignition is Ignition.CoilOnPlug or Ignition.CoilNearPlug && r.Happens(0.5))
        {
            c.ControlPresent = r.Happens(0.8) ? 0 : r.Between(0.1, 0.6);
        }
        else
        {
            c.InjectorControl = r.Happens(0.8) ? 0 : r.Between(0.1, 0.6);
        }
    }

    private static void PressureLow(EngineState s, Random r)
    {
        s.RailShare = r.Between(0.32, 0.85);
        s.RailShareAtFlow = r.Between(0.35, 0.9);
        s.RailHolds = r.Happens(0.4) ? r.Between(0.2, 0.7) : s.RailHolds;
    }

    private static void Contaminated(EngineState s, Random r)
    {
        s.FuelQuality = r.Between(0.35, 0.85);
        s.WaterInFuel = r.Happens(0.7);
    }
}
