using ShopDiag.Diagnosis;

namespace ShopDiag.VirtualCars.Cars.Garage.Bench;

/// <summary>Fuel, current and the engine's clockwork as a whole. Numbers made-up unless marked.</summary>
internal static class FuelTests
{
    /// <summary>Rail pressure of this car as it runs, before the gauge.</summary>
    public static double RailKPa(Visit visit)
    {
        var (min, max) = visit.Maker.RailKPa;
        return ((min + max) / 2) * (1 - visit.Body.Common.PressureLoss);
    }

    /// <summary>Pressure running, and five minutes after the key.</summary>
    public static Values Pressure(Visit visit)
    {
        var running = (RailKPa(visit) * visit.Shop.GaugeShows) + visit.Scatter(5);
        var left = running * (1 - visit.Dice.Between(0.02, 0.1)) * (1 - visit.Body.Common.BleedDown);
        return new Values().Number("kPa", Math.Max(0, running)).Number("afterFiveMinutesKPa", Math.Max(0, left));
    }

    /// <summary>A sample in a glass.</summary>
    public static Values Sample(Visit visit)
    {
        var (seen, strength) = visit.Body.Common.FuelDirt;
        return new Values().Words("seen", strength + visit.Scatter(0.08) > 0.4 ? seen : "clean");
    }

    /// <summary>Voltage while running and the ground's drop.</summary>
    public static Values Voltage(Visit visit) => new Values()
        .Number("volts", 14.0 - visit.Body.Common.SupplyDropVolts + visit.Shop.MeterVolts + visit.Scatter(0.12), 2)
        .Number("groundDropVolts", Math.Max(0, 0.05 + visit.Body.Common.GroundDropVolts + visit.Scatter(0.012)), 2);

    /// <summary>Cam against crank.</summary>
    public static Values CamTiming(Visit visit)
    {
        var off = visit.At.Kind == PlaceKind.Bank ? visit.Body.Bank(visit.At.First).CamOff : visit.Body.Banks.Max(b => b.CamOff);
        return new Values().Words("correlation", off + visit.Scatter(0.07) > 0.4 ? "off" : "good");
    }

    /// <summary>The fluid that changes colour over the coolant.</summary>
    public static Values GasInCoolant(Visit visit) =>
        new Values().YesNo("found", visit.Body.Common.GasInCoolant + visit.Scatter(0.1) > 0.45);
}
