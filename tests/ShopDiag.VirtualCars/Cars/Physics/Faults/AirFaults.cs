using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.VirtualCars.Cars.Physics.Faults;

/// <summary>Faults of air, exhaust, sensors and supply that the whole engine feels, and the leak at one runner.</summary>
internal static class AirFaults
{
    public static IEnumerable<FaultKind> All =>
    [
        FaultKind.AtCylinder("intake-leak-runner", (_, c, r) => c.RunnerLeakMm2 = r.Between(0.8, 4.5), e => e.Injection != Injection.ThrottleBody),
        FaultKind.AtEngine("intake-leak-common", (s, r) => s.CommonLeakMm2 = s.Engine.CylinderCount * r.Between(0.6, 3.0)),
        FaultKind.AtEngine("airflow-signal-wrong", Airflow),
        FaultKind.AtEngine("egr-open", (s, r) => s.EgrAtIdle = r.Between(0.12, 0.32)),
        new("exhaust-restricted", e => Enumerable.Range(1, e.Banks.Length).Select(Place.Bank),
            (s, at, r) => s.Restriction = s.Restriction.SetItem(at.First - 1, r.Between(0.5, 1))),
        FaultKind.AtEngine("ground-or-feed-poor", Supply),
        FaultKind.AtEngine("crank-signal-faulty", Crank),
    ];

    private static void Airflow(EngineState s, Random r)
    {
        var sign = r.Happens(0.75) ? -1 : 1;
        s.AirflowErrorLow = sign * r.Between(0.15, 0.5);
        s.AirflowErrorHigh = sign * r.Between(0.15, 0.5);
    }

    private static void Supply(EngineState s, Random r)
    {
        if (r.Happens(0.5))
        {
            s.GroundDropVolts = r.Between(0.8, 4);
        }
        else
        {
            s.SystemVolts = r.Between(9.2, 12.0);
        }
    }

    private static void Crank(EngineState s, Random r)
    {
        if (r.Happens(0.6))
        {
            s.CrankDropout = r.Between(0.03, 0.25);
        }
        else
        {
            s.CrankDropoutHot = r.Between(0.08, 0.4);
        }
    }
}
