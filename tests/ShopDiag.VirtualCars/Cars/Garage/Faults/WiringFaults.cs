using System.Collections.Immutable;
using ShopDiag.Diagnosis.Causes;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.VirtualCars.Cars.Garage.Faults;

/// <summary>What goes wrong in wires, joints and the computer on the way to the coil or the injector. Numbers made-up unless marked.</summary>
internal static class WiringFaults
{
    // A joint is either off for good or comes and goes with heat and shaking (common practice).
    private static readonly ImmutableArray<Habit> Joint =
        [new(3, new(1, 1, 1, 1, 1)), new(3, new(0.3, 0.5, 0.35, 0.5, 0.6), 0.75), new(3, new(0.08, 0.35, 0.05, 0.5, 0.4), 0.5)];

    /// <summary>The kinds.</summary>
    public static ImmutableArray<FaultKind> Kinds { get; } =
    [
        new()
        {
            Cause = "coil-feed-lost", Weight = 2.5, Scope = CauseScope.Cylinder, On = e => e.Ignition != Ignition.Distributor, Habits = Joint, Hurts = Feed,
        },
        new()
        {
            Cause = "coil-control-lost", Weight = 2.5, Scope = CauseScope.Cylinder, On = e => e.Ignition != Ignition.Distributor, Habits = Joint, Hurts = Control,
        },
        new()
        {
            Cause = "injector-control-lost", Weight = 3, Scope = CauseScope.Cylinder, On = FaultBook.OwnInjectors, Habits = Joint, Hurts = Pulse,
        },
        new()
        {
            Cause = "control-module-driver", Weight = 1.5, Scope = CauseScope.Cylinder, On = e => e.Ignition != Ignition.Distributor,
            Habits = [new(4, new(1, 1, 1, 1, 1)), new(3, new(0.2, 0.4, 0.05, 0.9, 0.3), 0.6)],
            MendedAnywhere = true, Hurts = Driver,
        },
        new()
        {
            Cause = "ground-or-feed-poor", Weight = 3.5, Scope = CauseScope.Engine,
            Habits = [new(3, new(0.12, 0.35, 0.25, 0.2, 0.3)), new(2, new(0.3, 0.4, 0.4, 0.45, 0.4), 0.75)],
            Touches = (2, 1), Spread = (0.4, 1), Hurts = Ground,
        },
        new()
        {
            Cause = "crank-signal-faulty", Weight = 2, Scope = CauseScope.Engine,
            Habits = [new(3, new(0.15, 0.2, 0.1, 0.45, 0.2), 0.7), new(2, new(0.2, 0.3, 0.3, 0.3, 0.3))],
            Spread = (0.6, 1), Hurts = CrankSignal,
        },
    ];

    private static void Feed(GarageFault fault, Body body, double s) => fault.Each(body, c =>
    {
        var loss = Lost(fault, s);
        c.FeedLoss = Body.Join(c.FeedLoss, loss);
        c.SparkLoss = Body.Join(c.SparkLoss, loss);
    });

    private static void Control(GarageFault fault, Body body, double s) => fault.Each(body, c =>
    {
        var loss = Lost(fault, s);
        c.ControlLoss = Body.Join(c.ControlLoss, loss);
        c.SparkLoss = Body.Join(c.SparkLoss, loss);
    });

    private static void Pulse(GarageFault fault, Body body, double s) => fault.Each(body, c =>
    {
        var loss = Lost(fault, s);
        c.PulseLoss = Body.Join(c.PulseLoss, loss);
        c.TickOff = Body.Join(c.TickOff, loss);
        c.FuelLack = Body.Join(c.FuelLack, loss);
    });

    private static void Driver(GarageFault fault, Body body, double s)
    {
        // The driver of a coil or of an injector; where there is no injector a cylinder it can only be the coil's.
        if (fault.Face < 0.6 || !FaultBook.OwnInjectors(body.Engine))
        {
            Control(fault, body, s);
        }
        else if (fault.Side < 0.8)
        {
            Pulse(fault, body, s);
        }
        else
        {
            fault.Each(body, c =>
            {
                c.HeldOn = s;
                c.FuelExcess += 0.6 * s;
                c.TickOff = Body.Join(c.TickOff, 0.9 * s);
                c.PlugLooks.Add(("fuel-wet", 0.8 * s));
            });
        }
    }

    private static void Ground(GarageFault fault, Body body, double s)
    {
        body.Common.GroundDropVolts += fault.Face < 0.65 ? 0.35 + (1.1 * s) : 0.1;
        body.Common.SupplyDropVolts += fault.Face < 0.65 ? 0.2 : 0.9 + (1.6 * s);
        fault.Each(body, c =>
        {
            c.SparkLoss = Body.Join(c.SparkLoss, 0.25 + (0.3 * s));
            c.FeedLoss = Body.Join(c.FeedLoss, 0.05 + (0.12 * s));
            c.FuelLack = Body.Join(c.FuelLack, 0.1 * s);
        });
    }

    private static void CrankSignal(GarageFault fault, Body body, double s)
    {
        body.Common.CrankSignalLoss = Body.Join(body.Common.CrankSignalLoss, 0.3 + (0.5 * s));
        // When it drops out, spark and fuel drop out on all alike.
        fault.Each(body, c =>
        {
            c.ControlLoss = Body.Join(c.ControlLoss, 0.15 + (0.3 * s));
            c.SparkLoss = Body.Join(c.SparkLoss, 0.1 + (0.25 * s));
            c.PulseLoss = Body.Join(c.PulseLoss, 0.1 * s);
        });
    }

    private static double Lost(GarageFault fault, double s) =>
        s <= 0 ? 0 : fault.Duties.Values.Max(d => d.Idle) > 0.6 ? 0.93 + (0.07 * s) : 0.3 + (0.45 * s);
}
