namespace ShopDiag.VirtualCars.Cars.Garage.Bench;

/// <summary>What is judged by eye, and the heat of a runner. Numbers made-up unless marked.</summary>
internal static class LookTests
{
    // From this strength on a look is called by its name.
    private const double Called = 0.5;

    /// <summary>The plug in the hand.</summary>
    public static Values Plug(Visit visit)
    {
        var c = visit.Here;
        var gap = Math.Max(0.3, visit.Maker.PlugGapMm - 0.5 + c.GapExtraMm + visit.Scatter(0.03));
        var looks = c.PlugLooks.Append(("fuel-wet", Wet(visit))).Append(("carbon-fouled", 0.55 * Math.Min(1, c.FuelExcess)));
        return new Values().Words("look", Strongest(visit, looks)).Number("gapMm", gap, 1);
    }

    /// <summary>Through the plug hole.</summary>
    public static Values Borescope(Visit visit) => new Values().Words("seen", Strongest(visit, visit.Here.Inside));

    /// <summary>The exhaust runner a minute after a cold start.</summary>
    public static Values Runner(Visit visit)
    {
        var duty = visit.DutyOf(visit.At.First);
        var lost = (duty.Idle + duty.Cold) / 2;
        var celsius = (visit.Wear.RunnerCelsius * (1 - (0.55 * lost))) + visit.Here.RunnerKelvin + visit.Scatter(8);
        return new Values().Number("celsius", Math.Max(visit.Shop.Celsius, celsius));
    }

    // A cylinder that gets fuel and does not burn it wets its plug.
    private static double Wet(Visit visit)
    {
        var c = visit.Here;
        return 0.85 * visit.AtIdle(visit.At.First) * c.SparkLoss * (1 - c.FuelLack);
    }

    private static string Strongest(Visit visit, IEnumerable<(string Word, double Strength)> looks)
    {
        var (word, strength) = looks
            .Select(l => (l.Word, Strength: l.Strength + visit.Shop.Eye + visit.Scatter(0.06)))
            .Append(("normal", Called))
            .MaxBy(l => l.Item2);
        return strength <= Called ? "normal" : word;
    }
}
