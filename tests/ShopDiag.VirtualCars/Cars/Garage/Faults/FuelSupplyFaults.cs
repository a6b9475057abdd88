using System.Collections.Immutable;
using ShopDiag.Diagnosis.Causes;

namespace ShopDiag.VirtualCars.Cars.Garage.Faults;

/// <summary>What goes wrong with fuel and its metering before the injectors. Numbers made-up unless marked.</summary>
internal static class FuelSupplyFaults
{
    /// <summary>The kinds.</summary>
    public static ImmutableArray<FaultKind> Kinds { get; } =
    [
        new()
        {
            Cause = "fuel-pressure-low", Weight = 5.5, Scope = CauseScope.Engine,
            Habits = [new(4, new(0.06, 0.45, 0.2, 0.25, 0.06)), new(2, new(0.3, 0.6, 0.5, 0.5, 0.3)), new(2, new(0.01, 0.4, 0.05, 0.45, 0.01), 0.65)],
            Touches = (2, 1), Spread = (0.4, 1), Hurts = Pressure,
        },
        new()
        {
            Cause = "fuel-contaminated", Weight = 2.5, Scope = CauseScope.Engine,
            Habits = [new(3, new(0.2, 0.3, 0.5, 0.2, 0.2)), new(2, new(0.06, 0.25, 0.3, 0.1, 0.06), 0.8)],
            Touches = (2, 1), Spread = (0.4, 1), Hurts = Dirty,
        },
        new()
        {
            Cause = "airflow-signal-wrong", Weight = 3.5, Scope = CauseScope.Engine,
            Habits = [new(3, new(0.06, 0.3, 0.15, 0.1, 0.1)), new(2, new(0.25, 0.2, 0.4, 0.25, 0.25))],
            Touches = (2, 1), Spread = (0.4, 1), Hurts = Airflow,
        },
    ];

    private static void Pressure(GarageFault fault, Body body, double s)
    {
        body.Common.PressureLoss = Body.Join(body.Common.PressureLoss, 0.2 + (0.35 * s));
        body.Common.BleedDown = Body.Join(body.Common.BleedDown, fault.Face < 0.35 ? 0.4 * s : 0.05);
        foreach (var bank in body.Banks)
        {
            bank.TrimIdle += 3 + (6 * s);
            bank.TrimFast += 8 + (10 * s);
        }

        foreach (var cylinder in body.Engine.Cylinders)
        {
            body[cylinder].FuelLack = Body.Join(body[cylinder].FuelLack, 0.1 + (0.15 * s));
        }
    }

    private static void Dirty(GarageFault fault, Body body, double s)
    {
        body.Common.FuelDirt = (fault.Face < 0.6 ? "water" : "other", 0.5 + (0.6 * s));
        foreach (var bank in body.Banks)
        {
            bank.TrimIdle += fault.Face < 0.6 ? 4 * s : 7 * s;
            bank.TrimFast += fault.Face < 0.6 ? 4 * s : 8 * s;
        }
    }

    private static void Airflow(GarageFault fault, Body body, double s)
    {
        // Reading too little air is the commoner way: dirt on the wire (common practice).
        var lean = fault.Face < 0.7;
        foreach (var bank in body.Banks)
        {
            bank.TrimIdle += lean ? -2 + (5 * s) : -6 - (12 * s);
            bank.TrimFast += lean ? 8 + (12 * s) : -5 - (10 * s);
        }

        fault.Each(body, c => c.PlugLooks.Add(("carbon-fouled", lean ? 0 : 0.45 * s)));
    }
}
