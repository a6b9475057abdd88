namespace ShopDiag.VirtualCars.Cars.Physics;

/// <summary>
/// The person who reads: how often he takes the next cylinder's reading for this one's, writes a wrong digit, misjudges what he sees or hears,
/// and how much wider his readings scatter. Drawn up for this bench from trade sense; no published figures exist.
/// </summary>
/// <param name="Level">How carefully.</param>
internal sealed record Reader(ReaderError Level)
{
    private double Times => Level switch
    {
        ReaderError.Careful => 0,
        ReaderError.Ordinary => 1,
        ReaderError.Hurried => 3,
        _ => throw new InvalidOperationException($"Unknown level {Level}."),
    };

    /// <summary>Factor on the scatter of instruments.</summary>
    public double Scatter => Level == ReaderError.Hurried ? 1.6 : 1;

    /// <summary>Touched the cylinder beside it.</summary>
    public bool WrongCylinder(Random random) => random.Happens(0.005 * Times);

    /// <summary>Misjudged a look or a sound.</summary>
    public bool Misjudges(Random random, double chance = 0.025) => random.Happens(chance * Times);

    /// <summary>Left out a step of the procedure that matters.</summary>
    public bool SkipsStep(Random random, double chance) => random.Happens(chance * Math.Max(0.3, Times));

    /// <summary>Writes a number down: now and then with two digits exchanged or one changed.</summary>
    public double Written(Random random, double value)
    {
        if (!random.Happens(0.006 * Times))
        {
            return value;
        }

        var digits = Math.Max(1, (int)Math.Floor(Math.Log10(Math.Max(1, Math.Abs(value)))));
        var step = Math.Pow(10, random.Next(Math.Max(0, digits - 1), digits + 1));
        return Math.Max(0, value + (step * random.Of([-3, -2, -1, 1, 2, 3])));
    }
}
