using System.Collections.Immutable;
using ShopDiag.Diagnosis.Causes;

namespace ShopDiag.VirtualCars.Cars.Garage.Faults;

/// <summary>What goes wrong in an injector. Numbers made-up unless marked.</summary>
internal static class InjectorFaults
{
    /// <summary>The kinds.</summary>
    public static ImmutableArray<FaultKind> Kinds { get; } =
    [
        new()
        {
            Cause = "injector-clogged", Weight = 9, Scope = CauseScope.Cylinder, On = FaultBook.OwnInjectors, Travels = Part.Injector,
            // A new injector mends whatever the old one had (common practice).
            AlsoMendedBy = ["injector-leaking", "injector-winding-failed"],
            Habits = [new(4, new(0.35, 0.55, 0.5, 0.3, 0.35)), new(3, new(0.06, 0.6, 0.2, 0.1, 0.1)), new(2, new(0.9, 0.9, 1, 0.85, 0.9)), new(2, new(0.3, 0.1, 0.6, 0.15, 0.3), 0.75)],
            Hurts = Clogged,
        },
        new()
        {
            Cause = "injector-leaking", Weight = 5, Scope = CauseScope.Cylinder, On = FaultBook.OwnInjectors, Travels = Part.Injector,
            AlsoMendedBy = ["injector-winding-failed"],
            // Rich at idle and after standing, burnt off under load (common practice).
            Habits = [new(4, new(0.4, 0.08, 0.55, 0.6, 0.4)), new(3, new(0.1, 0.03, 0.7, 0.5, 0.1), 0.8)],
            Hurts = Leaking,
        },
        new()
        {
            Cause = "injector-winding-failed", Weight = 4, Scope = CauseScope.Cylinder, On = FaultBook.OwnInjectors, Travels = Part.Injector,
            AlsoMendedBy = ["injector-leaking"],
            Habits = [new(4, new(1, 1, 1, 1, 1)), new(3, new(0.1, 0.25, 0, 0.9, 0.1), 0.6)],
            Hurts = Winding,
        },
    ];

    private static void Clogged(GarageFault fault, Body body, double s) => fault.Each(body, c =>
    {
        c.FuelLack = Body.Join(c.FuelLack, fault.Duties.Values.Max(d => d.Idle) > 0.7 ? 0.65 + (0.3 * s) : 0.2 + (0.35 * s));
        // A sticking one sounds unlike the others; one that is only sooted up ticks on.
        c.TickOff = Body.Join(c.TickOff, fault.Face < 0.3 ? 0.45 : 0.08);
        c.RunnerKelvin += 10 * s;
    });

    private static void Leaking(GarageFault fault, Body body, double s)
    {
        body.Common.BleedDown = Body.Join(body.Common.BleedDown, fault.Side < 0.75 ? 0.2 + (0.45 * s) : 0.08);
        fault.Each(body, c =>
        {
            c.FuelExcess += 0.15 + (0.35 * s);
            c.TickOff = Body.Join(c.TickOff, fault.Face < 0.15 ? 0.4 : 0.05);
            c.PlugLooks.Add((fault.Face < 0.55 ? "carbon-fouled" : "fuel-wet", 0.4 + (0.45 * s)));
            c.Inside.Add(("deposits", 0.3 * s));
        });
    }

    private static void Winding(GarageFault fault, Body body, double s) => fault.Each(body, c =>
    {
        c.InjectorOff = fault.Face < 0.55 ? 1000 : fault.Face < 0.75 ? -0.97 : (fault.Side < 0.5 ? -1 : 1) * (0.3 + (0.5 * s));
        c.TickOff = Body.Join(c.TickOff, 0.9);
        c.FuelLack = Body.Join(c.FuelLack, 0.9);
    });
}
