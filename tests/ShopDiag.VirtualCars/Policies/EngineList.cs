using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.VirtualCars.Policies;

/// <summary>The checklist for the engine as a whole, where no cylinder stands out.</summary>
internal sealed class EngineList(Looks look)
{
    /// <summary>What his rules come to, or null.</summary>
    public (string Cause, Place At)? Find() => Electric() ?? Mixture() ?? Breathing() ?? Cap() ?? Fuel() ?? Crank();

    private (string, Place)? Electric() =>
        look.OfEngine("system-voltage") is "low" or "poor-ground" ? ("ground-or-feed-poor", Place.Engine) : null;

    private (string, Place)? Mixture()
    {
        var trims = Enumerable.Range(1, look.Engine.Banks.Length).Select(b => look.Outcome("fuel-trims", Place.Bank(b))).ToArray();
        var off = trims.Any(t => t is not (null or "normal"));
        if (off && trims.Any(t => t is "lean-at-idle" or "lean-everywhere") && look.OfEngine("intake-leak") == "leak")
        {
            return ("intake-leak-common", Place.Engine);
        }

        var pressure = look.OfEngine("fuel-pressure");
        if (pressure == "low")
        {
            return ("fuel-pressure-low", Place.Engine);
        }

        return trims.All(t => t is not (null or "normal")) && pressure is not null && look.OfEngine("intake-leak") == "none"
            ? ("airflow-signal-wrong", Place.Engine)
            : null;
    }

    private (string, Place)? Breathing()
    {
        look.OfEngine("manifold-vacuum");
        for (var bank = 1; bank <= look.Engine.Banks.Length; bank++)
        {
            if (look.Outcome("cam-timing", Place.Bank(bank)) == "off")
            {
                return ("cam-timing-off", Place.Bank(bank));
            }
        }

        if (look.OfEngine("cam-timing") == "off")
        {
            return ("cam-timing-off", Place.Bank(1));
        }

        if (look.OfEngine("egr-block") == "gone")
        {
            return ("egr-open", Place.Engine);
        }

        return Enumerable.Range(1, look.Engine.Banks.Length).Select(Place.Bank)
            .Where(b => look.Outcome("exhaust-backpressure", b) == "restricted")
            .Select(b => ((string, Place)?)("exhaust-restricted", b)).FirstOrDefault();
    }

    private (string, Place)? Cap()
    {
        if (look.Engine.Ignition != Ignition.Distributor)
        {
            return null;
        }

        return look.Engine.Cylinders.Take(4).Count(c => look.At("spark-output", c) is "weak" or "none") >= 2 ? ("distributor-cap-rotor", Place.Engine) : null;
    }

    private (string, Place)? Fuel() => look.OfEngine("fuel-sample") == "contaminated" ? ("fuel-contaminated", Place.Engine) : null;

    private (string, Place)? Crank() => look.HasCode("P033") ? ("crank-signal-faulty", Place.Engine) : null;
}
