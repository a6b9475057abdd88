namespace ShopDiag.VirtualCars.Cars.Garage.Bench;

/// <summary>Injectors. Numbers made-up unless marked.</summary>
internal static class InjectorTests
{
    /// <summary>The tick through a stethoscope.</summary>
    public static Values Sound(Visit visit)
    {
        var off = visit.Here.TickOff + visit.Shop.Ear + visit.Scatter(0.07);
        return new Values().Words("sound", off > 0.75 ? "silent" : off > 0.3 ? "different" : "ticking");
    }

    /// <summary>The winding.</summary>
    public static Values Resistance(Visit visit)
    {
        var celsius = visit.Shop.Celsius + visit.Round.Between(0, 30);
        var (min, max) = visit.Maker.InjectorOhm;
        var sound = (min + ((max - min) * 0.45)) * (1 + (0.00393 * (celsius - 20)));
        var ohm = SparkTests.Ohm(sound, visit.Here.InjectorOff, visit.Shop.LeadOhm, visit.Scatter(0.012));
        return new Values().Number("ohm", ohm, ohm < 5 ? 2 : 1).Number("celsius", celsius);
    }

    /// <summary>The pulses at the connector.</summary>
    public static Values Control(Visit visit)
    {
        var loss = visit.Here.PulseLoss + visit.Scatter(0.05);
        return new Values().Words("signal", visit.Here.HeldOn > 0.3 ? "steady-on" : loss > 0.6 ? "absent" : "pulsing");
    }

    /// <summary>What one injector takes from the rail in a set of pulses.</summary>
    public static Values Drop(Visit visit)
    {
        var start = FuelTests.RailKPa(visit) + visit.Scatter(3);
        // The tester pulses it by itself: a lost signal does not show here, an open winding does.
        var clog = visit.Here.InjectorOff > 50 ? 1 : visit.Here.PulseLoss > 0 ? 0 : visit.Here.FuelLack;
        var sound = start * 0.17;
        var drop = (sound * (1 - clog) * (1 + visit.Here.FuelExcess)) + visit.Scatter(2.2);
        return new Values().Number("startKPa", start).Number("endKPa", start - Math.Max(0, drop));
    }
}
