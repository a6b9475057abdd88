using System.Collections.Immutable;
using ShopDiag.Diagnosis.Causes;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.VirtualCars.Cars.Garage.Faults;

/// <summary>What goes wrong between the coil's windings and the plug. Numbers made-up unless marked.</summary>
internal static class CoilFaults
{
    /// <summary>Dead, weak when pulling, weak when hot, weak when wet: the four ways of a coil (common practice).</summary>
    private static readonly ImmutableArray<Habit> CoilHabits =
    [
        new(3, new(1, 1, 1, 1, 1)), new(3, new(0.12, 0.75, 0.2, 0.35, 0.4)),
        new(3, new(0.06, 0.25, 0.01, 0.85, 0.1), 0.55), new(1.5, new(0.3, 0.5, 0.4, 0.5, 0.8), 0.7),
    ];

    private static readonly ImmutableArray<Habit> OutsideHabits =
    [
        new(4, new(0.12, 0.55, 0.15, 0.2, 0.8)), new(2, new(0.5, 0.85, 0.5, 0.55, 0.95)), new(3, new(0.01, 0.1, 0.1, 0.03, 0.85), 0.45),
    ];

    /// <summary>The kinds.</summary>
    public static ImmutableArray<FaultKind> Kinds { get; } =
    [
        new()
        {
            Cause = "coil-failed", Weight = 7, Scope = CauseScope.Cylinder, On = FaultBook.OwnCoils, Travels = Part.Coil, Habits = CoilHabits, Hurts = Coil,
        },
        new()
        {
            Cause = "shared-coil-failed", Weight = 8, Scope = CauseScope.Companions, On = e => e.Ignition == Ignition.WasteSpark, Habits = CoilHabits,
            // One end of a shared coil often suffers more than the other.
            Spread = (0.5, 1), AlsoMendedBy = ["coil-failed"], Hurts = Coil,
        },
        new()
        {
            Cause = "coil-boot-leak", Weight = 4, Scope = CauseScope.Cylinder, On = FaultBook.OwnCoils, Travels = Part.Coil, Habits = OutsideHabits,
            // A new coil comes with its boot, a new lead with its ends (common practice).
            AlsoMendedBy = ["coil-failed", "plug-wire-open"], Hurts = Boot,
        },
        new()
        {
            Cause = "plug-wire-open", Weight = 5, Scope = CauseScope.Cylinder, On = FaultBook.Leads,
            Habits = [new(3, new(0.9, 1, 0.9, 0.95, 0.95)), new(4, new(0.15, 0.7, 0.25, 0.25, 0.7)), new(2, new(0.1, 0.3, 0.1, 0.1, 0.8), 0.6)],
            Hurts = Wire,
        },
        new()
        {
            Cause = "distributor-cap-rotor", Weight = 9, Scope = CauseScope.Engine, On = e => e.Ignition == Ignition.Distributor,
            Habits = [new(4, new(0.15, 0.5, 0.25, 0.15, 0.85)), new(3, new(0.5, 0.7, 0.55, 0.5, 0.9)), new(3, new(0.02, 0.1, 0.3, 0.02, 0.9), 0.6)],
            Touches = (1, 0.7), Spread = (0.3, 1), MendedAnywhere = true, Hurts = Cap,
        },
    ];

    private static void Coil(GarageFault fault, Body body, double s) => fault.Each(body, c =>
    {
        c.SparkLoss = Body.Join(c.SparkLoss, Felt(fault, s, 1.1));
        // Four in ten show it to a meter; the others break down only at high voltage (common practice).
        if (fault.Face < 0.12)
        {
            c.PrimaryOff = fault.Side < 0.5 ? 100 : -0.7;
        }
        else if (fault.Face < 0.4)
        {
            c.SecondaryOff = fault.Side < 0.6 ? 100 : -0.5 * s;
        }
    });

    private static void Boot(GarageFault fault, Body body, double s) => fault.Each(body, c =>
    {
        // Off the plug, the boot hangs in free air and mostly holds.
        c.SparkLoss = Body.Join(c.SparkLoss, fault.Face < 0.3 ? 0.55 * s : 0.1 * s);
        c.PlugLooks.Add(("tracked", (fault.Side < 0.6 ? 0.5 : 0.2) + (0.35 * s)));
    });

    private static void Wire(GarageFault fault, Body body, double s) => fault.Each(body, c =>
    {
        c.SparkLoss = Body.Join(c.SparkLoss, Felt(fault, s, 1.05));
        // An open lead shows as an open secondary where it is measured through the lead.
        c.SecondaryOff = fault.Side < 0.5 && body.Engine.Ignition == Ignition.CoilNearPlug ? 100 : c.SecondaryOff;
    });

    private static void Cap(GarageFault fault, Body body, double s) => fault.Each(body, c =>
        c.SparkLoss = Body.Join(c.SparkLoss, Felt(fault, s, 0.85)));

    // A dead part gives a tester nothing; a part that drops a third of its sparks gives it weak ones.
    private static double Felt(GarageFault fault, double s, double times)
    {
        var most = fault.Duties.Values.Max(d => d.Most);
        return Math.Min(1, times * (most > 0.9 && fault.Presence >= 1 ? 0.75 + (0.25 * s) : 0.35 + (0.4 * s)) * (s > 0 ? 1 : 0));
    }
}
