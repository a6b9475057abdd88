using System.Collections.Immutable;
using ShopDiag.Diagnosis.Causes;

namespace ShopDiag.VirtualCars.Cars.Garage.Faults;

/// <summary>What goes wrong with air in and exhaust out. Numbers made-up unless marked.</summary>
internal static class AirFaults
{
    /// <summary>The kinds.</summary>
    public static ImmutableArray<FaultKind> Kinds { get; } =
    [
        new()
        {
            Cause = "intake-leak-runner", Weight = 7, Scope = CauseScope.Cylinder,
            // A leak counts where the engine draws hardest: at idle (common practice); a shrunken gasket closes as it warms.
            Habits = [new(5, new(0.5, 0.04, 0.6, 0.4, 0.5)), new(3, new(0.2, 0.01, 0.75, 0.1, 0.2), 0.9), new(2, new(0.85, 0.2, 0.9, 0.8, 0.85))],
            Hurts = Runner,
        },
        new()
        {
            Cause = "intake-leak-common", Weight = 6, Scope = CauseScope.Engine,
            Habits = [new(4, new(0.25, 0.03, 0.35, 0.2, 0.25)), new(2, new(0.12, 0.01, 0.4, 0.06, 0.12), 0.85)],
            Touches = (2, 1), Spread = (0.3, 1), Hurts = Common,
        },
        new()
        {
            Cause = "egr-open", Weight = 3, Scope = CauseScope.Engine,
            Habits = [new(4, new(0.3, 0.04, 0.25, 0.35, 0.3)), new(2, new(0.2, 0.05, 0.1, 0.3, 0.2), 0.65)],
            Touches = (2, 1), Spread = (0.3, 1), Hurts = Egr,
        },
        new()
        {
            Cause = "exhaust-restricted", Weight = 2.5, Scope = CauseScope.Engine,
            Habits = [new(4, new(0.05, 0.45, 0.05, 0.3, 0.05)), new(2, new(0.2, 0.5, 0.15, 0.4, 0.2))],
            Touches = (2, 1), Spread = (0.4, 1), Hurts = Stopped,
        },
    ];

    private static void Runner(GarageFault fault, Body body, double s)
    {
        body.Common.VacuumLossKPa += 1 + (4 * s);
        body.Common.Needles.Add(("low-steady", 0.15 * s));
        fault.Each(body, c =>
        {
            c.AirLeak = Body.Join(c.AirLeak, 0.45 + (0.55 * s));
            c.RunnerKelvin += 8 * s;
        });
        fault.EachBank(body, b => (b.TrimIdle, b.TrimFast) = (b.TrimIdle + 3 + (9 * s), b.TrimFast + (2 * s)));
    }

    private static void Common(GarageFault fault, Body body, double s)
    {
        body.Common.AirLeak = Body.Join(body.Common.AirLeak, 0.5 + (0.5 * s));
        body.Common.VacuumLossKPa += 4 + (12 * s);
        body.Common.Needles.Add(("low-steady", 0.55 + (0.4 * s)));
        foreach (var bank in body.Banks)
        {
            bank.TrimIdle += 9 + (14 * s);
            bank.TrimFast += 1 + (5 * s);
        }
    }

    private static void Egr(GarageFault fault, Body body, double s)
    {
        body.Common.EgrOpen = Body.Join(body.Common.EgrOpen, 0.5 + (0.5 * s));
        body.Common.VacuumLossKPa += 4 + (10 * s);
        body.Common.Needles.Add((fault.Face < 0.7 ? "low-steady" : "drifts", 0.45 + (0.3 * s)));
        foreach (var bank in body.Banks)
        {
            bank.TrimIdle += -5 + (10 * fault.Side);
        }
    }

    private static void Stopped(GarageFault fault, Body body, double s)
    {
        fault.EachBank(body, b =>
        {
            b.ExhaustStopped = Body.Join(b.ExhaustStopped, 0.35 + (0.6 * s));
            b.TrimFast -= 4 * s * fault.Side;
        });
        body.Common.VacuumLossKPa += 2 + (6 * s);
        body.Common.Needles.Add(("drifts", 0.4 + (0.45 * s)));
        foreach (var cylinder in fault.Cylinders(body.Engine))
        {
            body[cylinder].SnapFillLoss = Body.Join(body[cylinder].SnapFillLoss, 0.1 + (0.25 * s));
            body[cylinder].RunnerKelvin += 12 * s;
        }
    }
}
