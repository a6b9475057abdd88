using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.VirtualCars.Cars.Physics.Faults;

/// <summary>Faults of plugs, coils, leads and their wiring.</summary>
internal static class IgnitionFaults
{
    public static IEnumerable<FaultKind> All =>
    [
        FaultKind.AtCylinder("coil-failed", (_, c, r) => Coil(c, r), OneCoilEach),
        new("shared-coil-failed", e => e.Ignition == Ignition.WasteSpark ? e.CompanionPairs : [], SharedCoil),
        new("plug-worn", e => e.Cylinders.Select(Place.Cylinder), WornPlug),
        FaultKind.AtCylinder("plug-fouled", (_, c, r) => Fouled(c, r)),
        FaultKind.AtCylinder("plug-cracked", (_, c, r) => Cracked(c, r)),
        FaultKind.AtCylinder("coil-boot-leak", (_, c, r) => BootLeak(c, r)),
        FaultKind.AtCylinder("plug-wire-open", (_, c, r) => Lead(c, r), e => e.Ignition != Ignition.CoilOnPlug),
        FaultKind.AtCylinder("oil-in-plug-well", (_, c, r) => OilInWell(c, r)),
        new("connections-crossed", e => e.NeighbourPairs, Crossed),
        new("coil-feed-lost", WiringPlaces, (s, at, r) => Wiring(s, at, r, Feed)),
        new("coil-control-lost", WiringPlaces, (s, at, r) => Wiring(s, at, r, Control)),
        FaultKind.AtEngine("distributor-cap-rotor", CapAndRotor, e => e.Ignition == Ignition.Distributor),
    ];

    private static bool OneCoilEach(Engine e) => e.Ignition is Ignition.CoilOnPlug or Ignition.CoilNearPlug;

    private static IEnumerable<Place> WiringPlaces(Engine e) => e.Ignition switch
    {
        Ignition.WasteSpark => e.CompanionPairs,
        Ignition.Distributor => [],
        _ => e.Cylinders.Select(Place.Cylinder),
    };

    // A third of failed coils are dead, a third weak, the rest give out at times or when hot.
    private static void Coil(CylinderState c, Random r)
    {
        switch (r.NextDouble())
        {
            case < 0.33:
                c.CoilDropout = 1;
                c.CoilWinding = r.Happens(0.6) ? Winding.Open : Winding.Whole;
                break;
            case < 0.63:
                c.CoilKilovolts = r.Between(5, 21);
                c.CoilWinding = r.Happens(0.5) ? Winding.ShortedTurns : Winding.Whole;
                break;
            case < 0.83:
                c.CoilDropout = r.Between(0.08, 0.9);
                c.CoilKilovolts *= r.Between(0.7, 1);
                break;
            default:
                c.CoilShareHot = r.Between(0.1, 0.45);
                c.CoilKilovolts *= r.Between(0.6, 0.95);
                break;
        }
    }

    private static void SharedCoil(EngineState s, Place at, Random r)
    {
        var seed = r.Next();
        foreach (var cylinder in s.Engine.CylindersAt(at))
        {
            Coil(s[cylinder], new Random(seed));
        }
    }

    // The plugs of a set wear together; the one that misfires first is worn most.
    private static void WornPlug(EngineState s, Place at, Random r)
    {
        foreach (var c in s.Cylinders)
        {
            c.GapMm += r.Between(0.1, 0.28);
            c.ElectrodeFactor = r.Between(1.08, 1.22);
        }

        var worst = s[at.First];
        worst.GapMm = r.Between(1.45, 2.4);
        worst.ElectrodeFactor = r.Between(1.25, 1.6);
    }

    private static void Fouled(CylinderState c, Random r)
    {
        c.ShuntMegohm = Math.Exp(r.Between(Math.Log(0.03), Math.Log(0.5)));
        c.Mark = r.Happens(0.5) ? PlugMark.Oil : PlugMark.Carbon;
    }

    // Flashes over along the crack from a certain voltage on.
    private static void Cracked(CylinderState c, Random r)
    {
        c.Mark = PlugMark.Cracked;
        c.FlashoverKilovolts = r.Between(3, 17);
    }

    private static void BootLeak(CylinderState c, Random r)
    {
        c.FlashoverKilovolts = r.Between(4, 18);
        c.FlashoverShareWet = r.Between(0.3, 0.8);
        c.FlashesOverInTheOpen = r.Happens(0.4);
        c.Mark = r.Happens(0.93) ? PlugMark.Tracked : PlugMark.None;
    }

    // Oil softens the boot: it flashes over as a leaking one does, and a new one does so before long.
    private static void OilInWell(CylinderState c, Random r)
    {
        c.OilInWell = true;
        c.FlashoverKilovolts = r.Between(4, 18);
        c.FlashesOverInTheOpen = r.Happens(0.4);
        c.Mark = r.Happens(0.85) ? PlugMark.Oily : PlugMark.None;
    }

    private static void Crossed(EngineState s, Place at, Random r)
    {
        (s[at.First].CrossedWith, s[at.Second].CrossedWith) = (at.Second, at.First);
        s.RecentWork = true;
    }

    private static void Lead(CylinderState c, Random r)
    {
        if (r.Happens(0.6))
        {
            c.LeadKilovolts = r.Happens(0.5) ? 60 : r.Between(12, 32);
            return;
        }

        c.FlashoverKilovolts = r.Between(3, 15);
        c.FlashoverShareWet = r.Between(0.3, 0.8);
        // Burnt through on its way, so that it sparks to the block with a tester at its end too.
        c.FlashesOverInTheOpen = true;
    }

    private static void Wiring(EngineState s, Place at, Random r, Action<CylinderState, Random> harm)
    {
        var seed = r.Next();
        foreach (var cylinder in s.Engine.CylindersAt(at))
        {
            harm(s[cylinder], new Random(seed));
        }
    }

    private static void Feed(CylinderState c, Random r)
    {
        switch (r.NextDouble())
        {
            case < 0.55:
                c.FeedPresent = 0;
                break;
            case < 0.8:
                c.FeedDropVolts = r.Between(4.5, 9);
                c.FeedDropUnloadedShare = r.Between(0.2, 0.9);
                break;
            default:
                c.FeedPresent = r.Between(0.2, 0.9);
                c.ConnectorLoose = true;
                break;
        }
    }

    private static void Control(CylinderState c, Random r)
    {
        c.ControlPresent = r.Happens(0.65) ? 0 : r.Between(0.15, 0.9);
        c.ConnectorLoose = c.ControlPresent > 0;
    }

    // Burnt towers and a burnt rotor: some cylinders suffer more than others, and damp makes it worse.
    private static void CapAndRotor(EngineState s, Random r)
    {
        var common = r.Between(2, 9);
        foreach (var c in s.Cylinders)
        {
            c.LeadKilovolts += common + (r.Happens(0.35) ? r.Between(6, 22) : r.Between(0, 4));
            c.FlashoverShareWet = r.Between(0.25, 0.6);
            c.FlashoverKilovolts = Math.Min(c.FlashoverKilovolts, r.Between(14, 40));
            c.FlashesOverInTheOpen = true;
        }
    }
}
