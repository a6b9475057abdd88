using ShopDiag.Diagnosis;

namespace ShopDiag.VirtualCars.Cars.Garage.Bench;

/// <summary>Air in, exhaust out and the mixture between. Numbers made-up unless marked.</summary>
internal static class AirTests
{
    /// <summary>Smoke or gas along the intake.</summary>
    public static Values Leak(Visit visit)
    {
        var here = visit.At.Kind switch
        {
            PlaceKind.Cylinder => visit.Here.AirLeak,
            // Smoke at the plenum shows a leak wherever it is; at a runner it is called that cylinder's.
            PlaceKind.Engine => Math.Max(visit.Body.Common.AirLeak, 0.5 * visit.Engine.Cylinders.Max(c => visit.Body[c].AirLeak)),
            _ => visit.Engine.CylindersAt(visit.At).Max(c => visit.Body[c].AirLeak),
        };
        var found = here + visit.Scatter(0.09) > 0.37;
        var values = new Values().YesNo("found", found);
        return found ? values.Words("where", visit.At.Kind == PlaceKind.Cylinder ? "runner" : "manifold") : values;
    }

    /// <summary>Fuel trims of one bank.</summary>
    public static Values Trims(Visit visit)
    {
        var bank = visit.Body.Bank(visit.At.First);
        var cylinders = visit.Engine.Banks[visit.At.First - 1];
        // A miss sends its air past the sensor, which calls for fuel that is not missing (common practice).
        var missIdle = cylinders.Average(c => visit.AtIdle(c)) * 38;
        var missFast = cylinders.Average(c => (visit.DutyOf(c).Idle + visit.DutyOf(c).Load) / 2) * 30;
        var own = cylinders.Average(c => (visit.Body[c].FuelLack * 30) - (visit.Body[c].FuelExcess * 38));
        var values = Split(new Values(), "idle", bank.TrimIdle + missIdle + own + visit.Scatter(1.6), visit);
        return visit.Shop.HoldsFast ? Split(values, "2500rpm", bank.TrimFast + missFast + own + visit.Scatter(1.6), visit) : values;
    }

    /// <summary>The vacuum gauge at idle.</summary>
    public static Values Vacuum(Visit visit)
    {
        var lost = visit.Engine.Cylinders.Average(visit.AtIdle);
        var kPa = visit.Wear.VacuumKPa - visit.Body.Common.VacuumLossKPa - (9 * lost) + visit.Scatter(1.2);
        var worst = visit.Engine.Cylinders.Max(visit.AtIdle);
        // A dead cylinder swings the needle too, whatever killed it.
        var needles = visit.Body.Common.Needles
            .Append(("drops-regularly", 0.6 * worst)).Append(("drops-at-times", worst is > 0.05 and < 0.6 ? 0.45 : 0)).Append(("low-steady", kPa < 50 ? 0.55 : 0));
        var (needle, strength) = needles.Select(n => (n.Item1, n.Item2 + visit.Shop.Eye + visit.Scatter(0.08))).MaxBy(n => n.Item2);
        return new Values().Number("kPa", Math.Max(0, kPa)).Words("needle", strength > 0.42 ? needle : "steady");
    }

    /// <summary>Pressure before the catalyst.</summary>
    public static Values Backpressure(Visit visit)
    {
        var stopped = visit.At.Kind == PlaceKind.Bank ? visit.Body.Bank(visit.At.First).ExhaustStopped : visit.Body.Banks.Max(b => b.ExhaustStopped);
        var (idle, fast) = (visit.Maker.BackpressureIdleKPa, visit.Maker.BackpressureFastKPa);
        return new Values()
            .Number("kPaAtIdle", Math.Max(0, (idle * (0.35 + (1.1 * stopped * stopped))) + visit.Scatter(0.5)), 1)
            .Number("kPaAt2500", Math.Max(0, (fast * (0.45 + (2.2 * stopped))) + visit.Scatter(1)), 1);
    }

    /// <summary>The recirculation closed off.</summary>
    public static Values EgrBlocked(Visit visit)
    {
        var withIt = visit.Engine.Cylinders.Max(visit.AtIdle);
        var rest = visit.Awake.Where(f => f.Kind.Cause != "egr-open").SelectMany(f => f.Duties.Values).Select(d => d.Idle).DefaultIfEmpty(0).Max();
        // It is gone when hardly a third is left of it; one that comes and goes may stay away by itself.
        return new Values().YesNo("misfireGone", withIt > 0.02 ? rest < 0.35 * withIt && visit.Dice.Chance(0.95) : visit.Dice.Chance(0.08));
    }

    // Long-term correction holds the larger part, in whole steps of the scan tool.
    private static Values Split(Values values, string at, double sum, Visit visit)
    {
        sum = Math.Clamp(sum, -40, 45);
        var lasting = Math.Clamp(sum * visit.Dice.Between(0.5, 1), -25, 25);
        return values.Number(at + ".shortPercent", sum - lasting, 1).Number(at + ".longPercent", lasting, 1);
    }
}
