using System.Collections.Immutable;
using ShopDiag.Diagnosis.Causes;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.VirtualCars.Cars.Garage.Faults;

/// <summary>What keeps a sound valve from doing its work in time. Numbers made-up unless marked.</summary>
internal static class ValveGearFaults
{
    /// <summary>The kinds.</summary>
    public static ImmutableArray<FaultKind> Kinds { get; } =
    [
        new()
        {
            Cause = "valve-lift-lost", Weight = 3.5, Scope = CauseScope.Cylinder,
            Habits = [new(4, new(0.85, 0.9, 0.9, 0.85, 0.85)), new(3, new(0.3, 0.55, 0.55, 0.25, 0.3))], Hurts = Lift,
        },
        new()
        {
            Cause = "valve-clearance-tight", Weight = 3, Scope = CauseScope.Cylinder, On = e => e.Spec.Lash != ValveLash.Hydraulic,
            // Work on the valves ends with their clearance set (common practice).
            AlsoMendedBy = ["exhaust-valve-leak", "intake-valve-leak"],
            // Warmth closes what clearance is left (common practice).
            Habits = [new(4, new(0.35, 0.1, 0.08, 0.7, 0.35)), new(3, new(0.6, 0.25, 0.3, 0.75, 0.6))], Hurts = Tight,
        },
        new()
        {
            Cause = "valve-spring-weak", Weight = 2, Scope = CauseScope.Cylinder,
            Habits = [new(5, new(0.03, 0.55, 0.03, 0.15, 0.03)), new(2, new(0.3, 0.7, 0.3, 0.35, 0.3))], Hurts = Spring,
        },
        new() { Cause = "valve-deposits", Weight = 1.5, Scope = CauseScope.Cylinder, On = e => e.Injection != Injection.Direct, Habits = DepositHabits, Hurts = Deposits },
        // Without fuel over the intake valves nothing washes them: commoner with direct injection (common practice).
        new() { Cause = "valve-deposits", Weight = 5, Scope = CauseScope.Cylinder, On = e => e.Injection == Injection.Direct, Habits = DepositHabits, Hurts = Deposits },
        new()
        {
            Cause = "cam-timing-off", Weight = 3, Scope = CauseScope.Bank,
            Habits = [new(4, new(0.2, 0.15, 0.3, 0.2, 0.2)), new(2, new(0.4, 0.25, 0.5, 0.35, 0.4))], Spread = (0.5, 1), Hurts = Cam,
        },
    ];

    private static ImmutableArray<Habit> DepositHabits => [new(5, new(0.12, 0.03, 0.75, 0.03, 0.12)), new(2, new(0.25, 0.1, 0.6, 0.1, 0.25))];

    private static void Lift(GarageFault fault, Body body, double s)
    {
        var intake = fault.Face < 0.55;
        body.Common.Needles.Add(("drops-regularly", 0.25 * s));
        fault.Each(body, c =>
        {
            var loss = 0.3 + (0.65 * s);
            (c.IntakeLiftLoss, c.ExhaustLiftLoss) = intake ? (loss, c.ExhaustLiftLoss) : (c.IntakeLiftLoss, loss);
            (c.IntakeClearanceMm, c.ExhaustClearanceMm) = intake
                ? (c.IntakeClearanceMm + (0.35 * s * fault.Side), c.ExhaustClearanceMm)
                : (c.IntakeClearanceMm, c.ExhaustClearanceMm + (0.35 * s * fault.Side));
            // An intake valve that stays shut starves the cranking test too; an exhaust valve that stays shut does not.
            c.CrankFillLoss = Body.Join(c.CrankFillLoss, intake ? 0.55 * loss * loss : 0);
            c.IdleFillLoss = Body.Join(c.IdleFillLoss, (intake ? 0.5 : 0.3) * loss);
            c.SnapFillLoss = Body.Join(c.SnapFillLoss, (intake ? 0.65 : 0.5) * loss);
        });
    }

    private static void Tight(GarageFault fault, Body body, double s)
    {
        body.Common.Needles.Add(("drops-regularly", 0.15 + (0.4 * s)));
        fault.Each(body, c =>
        {
            var exhaust = fault.Face < 0.7;
            var leak = 0.08 + (0.35 * s);
            (c.ToExhaust, c.ToIntake) = exhaust ? (Body.Join(c.ToExhaust, leak), c.ToIntake) : (c.ToExhaust, Body.Join(c.ToIntake, leak));
            (c.IntakeClearanceMm, c.ExhaustClearanceMm) = exhaust
                ? (c.IntakeClearanceMm, c.ExhaustClearanceMm - 0.12 - (0.16 * s))
                : (c.IntakeClearanceMm - 0.1 - (0.1 * s), c.ExhaustClearanceMm);
        });
    }

    private static void Spring(GarageFault fault, Body body, double s)
    {
        body.Common.Needles.Add((fault.Face < 0.7 ? "flutters" : "drops-at-times", 0.3 + (0.45 * s)));
        fault.Each(body, c =>
        {
            c.SnapFillLoss = Body.Join(c.SnapFillLoss, 0.12 + (0.2 * s));
            c.ToExhaust = Body.Join(c.ToExhaust, fault.Side < 0.25 ? 0.12 * s : 0);
            c.IntakeLiftLoss = Body.Join(c.IntakeLiftLoss, fault.Face < 0.1 ? 0.08 : 0);
        });
    }

    private static void Deposits(GarageFault fault, Body body, double s)
    {
        body.Common.Needles.Add(("drops-at-times", 0.2 * s));
        fault.Each(body, c =>
        {
            c.ToIntake = Body.Join(c.ToIntake, fault.Side < 0.4 ? 0.12 * s : 0.02);
            c.SnapFillLoss = Body.Join(c.SnapFillLoss, 0.06 + (0.14 * s));
            c.Inside.Add(("deposits", 0.5 + (0.5 * s)));
        });
        fault.EachBank(body, b => b.TrimIdle += 1.5 * s);
    }

    private static void Cam(GarageFault fault, Body body, double s)
    {
        fault.EachBank(body, b => b.CamOff = Math.Max(b.CamOff, 0.45 + (0.6 * s)));
        body.Common.VacuumLossKPa += 4 + (12 * s);
        body.Common.Needles.Add(("low-steady", 0.45 + (0.4 * s)));
        foreach (var cylinder in fault.Cylinders(body.Engine))
        {
            body[cylinder].CrankFillLoss = Body.Join(body[cylinder].CrankFillLoss, 0.06 + (0.28 * s));
            body[cylinder].SnapFillLoss = Body.Join(body[cylinder].SnapFillLoss, 0.08 + (0.12 * s));
        }

        fault.EachBank(body, b => b.TrimIdle += 6 * (fault.Face - 0.5));
    }
}
