using System.Collections.Immutable;
using ShopDiag.Diagnosis.Causes;

namespace ShopDiag.VirtualCars.Cars.Garage.Faults;

/// <summary>What goes wrong at a spark plug. A new plug mends them all (common practice). Numbers made-up unless marked.</summary>
internal static class PlugFaults
{
    private static readonly ImmutableArray<string> AnyNewPlug = ["plug-worn", "plug-fouled", "plug-cracked"];

    /// <summary>The kinds.</summary>
    public static ImmutableArray<FaultKind> Kinds { get; } =
    [
        new()
        {
            Cause = "plug-worn", Weight = 6, Scope = CauseScope.Cylinder, Travels = Part.Plug, AlsoMendedBy = AnyNewPlug,
            // A wide gap asks most of the coil under load (common practice).
            Habits = [new(5, new(0.06, 0.45, 0.2, 0.12, 0.2)), new(3, new(0.3, 0.6, 0.4, 0.3, 0.35)), new(2, new(0.02, 0.3, 0.1, 0.05, 0.2), 0.7)],
            Hurts = Worn,
        },
        new()
        {
            Cause = "plug-fouled", Weight = 5, Scope = CauseScope.Cylinder, Travels = Part.Plug, AlsoMendedBy = AnyNewPlug,
            // Soot and oil lead the spark away most when cold (common practice).
            Habits = [new(5, new(0.5, 0.35, 0.85, 0.4, 0.5)), new(3, new(0.95, 0.85, 1, 0.9, 0.95)), new(2, new(0.05, 0.05, 0.7, 0.03, 0.2), 0.8)],
            Hurts = Fouled,
        },
        new()
        {
            Cause = "plug-cracked", Weight = 3, Scope = CauseScope.Cylinder, Travels = Part.Plug, AlsoMendedBy = AnyNewPlug,
            Habits = [new(5, new(0.15, 0.8, 0.2, 0.3, 0.5)), new(3, new(0.85, 0.95, 0.85, 0.9, 0.95)), new(2, new(0.05, 0.3, 0.05, 0.6, 0.2), 0.6)],
            Hurts = Cracked,
        },
    ];

    private static void Worn(GarageFault fault, Body body, double s) => fault.Each(body, c =>
    {
        c.GapExtraMm += 0.25 + (0.7 * s);
        c.PlugLooks.Add(fault.Face < 0.5 ? ("worn", 0.55 + (0.5 * s)) : ("gap-wide", 0.55 + (0.5 * s)));
        c.RunnerKelvin -= 5 * s;
    });

    private static void Fouled(GarageFault fault, Body body, double s) => fault.Each(body, c =>
    {
        c.PlugLooks.Add((fault.Face < 0.45 ? "oil-fouled" : fault.Face < 0.85 ? "carbon-fouled" : "fuel-wet", 0.6 + (0.45 * s)));
        // What fouled it is seen inside too: oil from above, soot from short trips.
        c.Inside.Add((fault.Face < 0.45 ? "wet-oil" : "deposits", 0.35 * s));
    });

    private static void Cracked(GarageFault fault, Body body, double s) => fault.Each(body, c =>
    {
        // A crack under the shell is not always to be seen (common practice).
        c.PlugLooks.Add((fault.Face < 0.65 ? "cracked" : fault.Face < 0.85 ? "tracked" : "damaged", (fault.Side < 0.8 ? 0.55 : 0.15) + (0.45 * s)));
    });
}
