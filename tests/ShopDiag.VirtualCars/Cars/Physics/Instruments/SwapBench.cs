using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.VirtualCars.Cars.Physics.Instruments;

/// <summary>Part exchanged with another cylinder's, and the engine run until the misfire is seen again.</summary>
internal static class SwapBench
{
    private delegate void Exchange(CylinderState one, CylinderState other);

    public static IEnumerable<(string Test, Bay.Instrument Take)> All =>
    [
        ("coil-swap", (bay, at, random) => bay.Engine.Engine.Ignition switch
        {
            Ignition.CoilOnPlug => Swap(bay, at, random, CoilWithBoot),
            Ignition.CoilNearPlug or Ignition.WasteSpark => Swap(bay, at, random, Coil),
            _ => null,
        }),
        ("plug-swap", (bay, at, random) => Swap(bay, at, random, Plug)),
        ("injector-swap", (bay, at, random) => bay.Engine.Engine.Injection == Injection.ThrottleBody ? null : Swap(bay, at, random, Injector)),
    ];

    private static List<KeyValuePair<string, FieldValue>> Swap(Bay bay, int cylinder, Random random, Exchange exchange)
    {
        var partner = Partner(bay, cylinder);
        var state = bay.Engine.Copy();
        exchange(state[cylinder], state[partner]);
        if (exchange == Coil && bay.Engine.Engine is { Ignition: Ignition.WasteSpark } engine)
        {
            // One coil fires two cylinders: its other end goes along.
            exchange(state[engine.Companion(cylinder)!.Value], state[engine.Companion(partner)!.Value]);
        }

        // A connector that was only loose makes contact again for a while, at times.
        if (state[cylinder].ConnectorLoose && exchange != Plug && random.Happens(0.3))
        {
            (state[cylinder].FeedPresent, state[cylinder].ControlPresent) = (1, 1);
        }

        var running = Combustion.At(state, bay.Shown);
        bool Seen(int c) => random.Count(500, running[c].Misfire) > 7;
        var (own, other) = (Seen(cylinder), Seen(partner));
        double? moved = (own, other) switch
        {
            (true, true) => running[cylinder].Misfire >= running[partner].Misfire ? cylinder : partner,
            (true, false) => cylinder,
            (false, true) => partner,
            _ => null,
        };
        if (bay.Reader.Misjudges(random, 0.01))
        {
            moved = moved == cylinder ? partner : cylinder;
        }

        return [Bay.Field("swappedWith", partner), moved is { } m ? Bay.Field("misfireMovedTo", m) : Bay.Empty("misfireMovedTo")];
    }

    // The cylinder that fires best, on the same bank where there is one.
    private static int Partner(Bay bay, int cylinder)
    {
        var engine = bay.Engine.Engine;
        var running = bay.Driving.At(bay.Shown);
        return engine.Cylinders.Where(c => c != cylinder && (engine.Ignition != Ignition.WasteSpark || c != engine.Companion(cylinder)))
            .OrderBy(c => running[c].Misfire > Driving.Felt).ThenBy(c => engine.BankOf(c) != engine.BankOf(cylinder)).ThenBy(c => c).First();
    }

    private static void Coil(CylinderState a, CylinderState b)
    {
        (a.CoilKilovolts, b.CoilKilovolts) = (b.CoilKilovolts, a.CoilKilovolts);
        (a.CoilShareHot, b.CoilShareHot) = (b.CoilShareHot, a.CoilShareHot);
        (a.CoilDropout, b.CoilDropout) = (b.CoilDropout, a.CoilDropout);
    }

    // On a coil that sits on its plug the boot comes with it; a crack in the plug stays.
    private static void CoilWithBoot(CylinderState a, CylinderState b)
    {
        Coil(a, b);
        if (a.Mark != PlugMark.Cracked && b.Mark != PlugMark.Cracked && !StaysInWell(a) && !StaysInWell(b))
        {
            Boot(a, b);
        }
    }

    // Half of the oily ones leak through the softened boot, which goes with the coil, the rest along the oil in the well.
    private static bool StaysInWell(CylinderState c) => c.OilInWell && c.FlashoverKilovolts * 10 % 2 < 1;

    private static void Boot(CylinderState a, CylinderState b)
    {
        (a.FlashoverKilovolts, b.FlashoverKilovolts) = (b.FlashoverKilovolts, a.FlashoverKilovolts);
        (a.FlashoverShareWet, b.FlashoverShareWet) = (b.FlashoverShareWet, a.FlashoverShareWet);
    }

    private static void Plug(CylinderState a, CylinderState b)
    {
        (a.GapMm, b.GapMm) = (b.GapMm, a.GapMm);
        (a.ElectrodeFactor, b.ElectrodeFactor) = (b.ElectrodeFactor, a.ElectrodeFactor);
        (a.ShuntMegohm, b.ShuntMegohm) = (b.ShuntMegohm, a.ShuntMegohm);
        if (a.Mark == PlugMark.Cracked || b.Mark == PlugMark.Cracked)
        {
            Boot(a, b);
        }

        (a.Mark, b.Mark) = (b.Mark, a.Mark);
    }

    private static void Injector(CylinderState a, CylinderState b)
    {
        (a.Flow, b.Flow) = (b.Flow, a.Flow);
        (a.InjectorWinding, b.InjectorWinding) = (b.InjectorWinding, a.InjectorWinding);
        (a.InjectorDropoutHot, b.InjectorDropoutHot) = (b.InjectorDropoutHot, a.InjectorDropoutHot);
        if (!a.InjectorSteadyOn && !b.InjectorSteadyOn)
        {
            (a.Drip, b.Drip) = (b.Drip, a.Drip);
        }
    }
}
