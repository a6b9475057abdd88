using System.Collections.Immutable;
using ShopDiag.Diagnosis.Causes;

namespace ShopDiag.VirtualCars.Cars.Garage.Faults;

/// <summary>What lets the charge out of a cylinder. Numbers made-up unless marked.</summary>
internal static class SealFaults
{
    // A head that is off is put back with a new gasket and its valves ground (common practice).
    private static readonly ImmutableArray<string> HeadWork = ["exhaust-valve-leak", "intake-valve-leak"];

    /// <summary>The kinds.</summary>
    public static ImmutableArray<FaultKind> Kinds { get; } =
    [
        new()
        {
            Cause = "exhaust-valve-leak", Weight = 5.5, Scope = CauseScope.Cylinder, AlsoMendedBy = HeadWork,
            Habits = [new(4, new(0.85, 0.5, 0.85, 0.9, 0.85)), new(3, new(0.4, 0.15, 0.35, 0.55, 0.4))], Hurts = (f, b, s) => Valve(f, b, s, exhaust: true),
        },
        new()
        {
            Cause = "intake-valve-leak", Weight = 3.5, Scope = CauseScope.Cylinder, AlsoMendedBy = HeadWork,
            Habits = [new(4, new(0.8, 0.45, 0.85, 0.75, 0.8)), new(3, new(0.35, 0.12, 0.5, 0.3, 0.35))], Hurts = (f, b, s) => Valve(f, b, s, exhaust: false),
        },
        new()
        {
            Cause = "rings-worn", Weight = 4, Scope = CauseScope.Cylinder, AlsoMendedBy = ["piston-damaged"],
            Habits = [new(4, new(0.3, 0.15, 0.6, 0.2, 0.3)), new(2, new(0.7, 0.4, 0.9, 0.6, 0.7))], Hurts = Rings,
        },
        new()
        {
            Cause = "piston-damaged", Weight = 2.5, Scope = CauseScope.Cylinder,
            Habits = [new(4, new(0.9, 0.8, 0.95, 0.9, 0.9)), new(2, new(0.4, 0.35, 0.5, 0.45, 0.4))], Hurts = Piston,
        },
        new()
        {
            Cause = "head-gasket-neighbours", Weight = 3.5, Scope = CauseScope.Neighbours, MendedOnBank = true, AlsoMendedBy = [.. HeadWork, "head-gasket-coolant"],
            Habits = [new(4, new(0.8, 0.6, 0.8, 0.85, 0.8)), new(2, new(0.35, 0.25, 0.3, 0.45, 0.35))], Spread = (0.75, 1), Hurts = Between,
        },
        new()
        {
            Cause = "head-gasket-coolant", Weight = 3.5, Scope = CauseScope.Cylinder, MendedOnBank = true, AlsoMendedBy = [.. HeadWork, "head-gasket-neighbours"],
            // Coolant that seeped in overnight has to be burnt off first (common practice).
            Habits = [new(5, new(0.12, 0.12, 0.8, 0.2, 0.12)), new(3, new(0.4, 0.4, 0.8, 0.5, 0.4))], Hurts = Coolant,
        },
    ];

    private static void Valve(GarageFault fault, Body body, double s, bool exhaust)
    {
        body.Common.Needles.Add(("drops-regularly", 0.3 + (0.5 * s)));
        fault.Each(body, c =>
        {
            var leak = 0.22 + (0.6 * s);
            (c.ToExhaust, c.ToIntake) = exhaust ? (Body.Join(c.ToExhaust, leak), c.ToIntake) : (c.ToExhaust, Body.Join(c.ToIntake, leak));
            c.Inside.Add(("valve-burnt", (exhaust ? 0.35 : 0.15) + (0.45 * s)));
            c.RunnerKelvin += exhaust ? 25 * s : 0;
            c.IntakeClearanceMm += exhaust ? 0 : -0.03 * fault.Side;
            c.ExhaustClearanceMm += exhaust ? -0.04 * fault.Side : 0;
        });
    }

    private static void Rings(GarageFault fault, Body body, double s) => fault.Each(body, c =>
    {
        c.ToCrankcase = Body.Join(c.ToCrankcase, 0.2 + (0.4 * s));
        c.OilSeals = Math.Max(c.OilSeals, 0.55 + (0.35 * fault.Side));
        c.PlugLooks.Add(("oil-fouled", 0.25 + (0.4 * s)));
        c.Inside.Add((fault.Face < 0.55 ? "wall-scored" : "wet-oil", 0.25 + (0.4 * s)));
    });

    private static void Piston(GarageFault fault, Body body, double s) => fault.Each(body, c =>
    {
        c.ToCrankcase = Body.Join(c.ToCrankcase, 0.4 + (0.55 * s));
        c.OilSeals = Math.Max(c.OilSeals, fault.Side < 0.3 ? 0.35 : 0.08);
        c.PlugLooks.Add((fault.Face < 0.5 ? "damaged" : "oil-fouled", 0.3 + (0.4 * s)));
        c.Inside.Add(("piston-damage", 0.5 + (0.5 * s)));
    });

    private static void Between(GarageFault fault, Body body, double s)
    {
        body.Common.Needles.Add((fault.Face < 0.7 ? "drops-regularly" : "flutters", 0.35 + (0.45 * s)));
        fault.Each(body, c => c.ToNeighbour = Body.Join(c.ToNeighbour, 0.25 + (0.5 * s)));
    }

    private static void Coolant(GarageFault fault, Body body, double s)
    {
        body.Common.GasInCoolant = Math.Max(body.Common.GasInCoolant, 0.45 + (0.6 * s));
        body.Common.Needles.Add(("drops-regularly", 0.15 * s));
        fault.Each(body, c =>
        {
            c.ToCoolant = Body.Join(c.ToCoolant, 0.08 + (0.3 * s));
            c.PlugLooks.Add(("coolant-washed", 0.35 + (0.45 * s)));
            c.Inside.Add(("wet-coolant", 0.4 + (0.45 * s)));
            c.RunnerKelvin -= 8 * s;
        });
    }
}
