namespace ShopDiag.VirtualCars.Cars.Physics.Instruments;

/// <summary>What a plug's face looks like from what the cylinder has been through.</summary>
internal static class PlugFace
{
    private static readonly string[] Looks = ["normal", "worn", "carbon-fouled", "fuel-wet", "oil-fouled"];

    public static string Look(Bay bay, int cylinder, Random random)
    {
        var look = Real(bay, cylinder, random);
        return bay.Reader.Misjudges(random, 0.03) ? random.Of(Looks) : look;
    }

    /// <summary>What stands in the plug's well.</summary>
    public static string Well(Bay bay, int cylinder, Random random)
    {
        var well = bay.Engine[cylinder].OilInWell ? random.Happens(0.95) ? "oil" : "dry" : random.Happens(0.02) ? "oil" : random.Happens(0.01) ? "water" : "dry";
        return bay.Reader.Misjudges(random, 0.005) ? "oil" : well;
    }

    private static string Real(Bay bay, int cylinder, Random random)
    {
        var c = bay.Engine[cylinder];
        var (idle, load) = (bay.Driving.At(Condition.Idle)[cylinder], bay.Driving.At(Condition.Load)[cylinder]);
        var marked = c.Mark switch
        {
            PlugMark.Cracked => random.Happens(0.88) ? "cracked" : null,
            PlugMark.Tracked => random.Happens(0.92) ? "tracked" : null,
            PlugMark.Coolant => random.Happens(0.9) ? "coolant-washed" : null,
            PlugMark.Oily => random.Happens(0.45) ? "tracked" : null,
            PlugMark.Hammered => "damaged",
            PlugMark.Oil => random.Happens(0.93) ? "oil-fouled" : null,
            PlugMark.Carbon => random.Happens(0.93) ? "carbon-fouled" : null,
            _ => null,
        };
        return marked ?? (Wet(idle) && random.Happens(0.75) ? "fuel-wet" : Sooted(idle, load, random) ? "carbon-fouled" : Electrode(c, load, random));
    }

    // Fuel went in and did not burn.
    private static bool Wet(Firing idle) => idle.Misfire > 0.6 && idle.Lambda < 1.4;

    private static bool Sooted(Firing idle, Firing load, Random random) =>
        (idle.Lambda < 0.80 || load.Lambda < 0.72) && random.Happens(0.9);

    private static string Electrode(CylinderState c, Firing load, Random random)
    {
        if (load.Lambda is > 1.25 and < 3 && random.Happens(0.2))
        {
            return "blistered";
        }

        return c.GapMm > 1.55 && random.Happens(0.5) ? "gap-wide" : c.ElectrodeFactor > random.Normal(1.2, 0.04) ? "worn" : "normal";
    }
}
