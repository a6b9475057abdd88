namespace ShopDiag.Signals.Speed;

/// <summary>
/// Speeds at even steps of their logarithm, so that order k of every speed lies the same number of steps higher. In cycles a second (rpm/120).
/// </summary>
internal sealed record SpeedGrid(double LowestHz, int Count, double Step)
{
    /// <summary>0.2 %: finer than a second of sound can tell; the rest is interpolation.</summary>
    public const double FineStep = 0.002;

    /// <summary>The grid from one speed to another, in rpm.</summary>
    public static SpeedGrid Between(double lowRpm, double highRpm, double step = FineStep) =>
        new(EngineToHear.CycleHz(lowRpm), (int)Math.Ceiling(Math.Log(highRpm / lowRpm) / step) + 1, step);

    /// <summary>The speed at a place, which may lie between two points, in rpm.</summary>
    public double Rpm(double at) => 120 * LowestHz * Math.Exp(at * Step);

    /// <summary>The place of a speed, rounded to a point of the grid.</summary>
    public int At(double rpm) => Math.Clamp((int)Math.Round(Math.Log(EngineToHear.CycleHz(rpm) / LowestHz) / Step, MidpointRounding.AwayFromZero), 0, Count - 1);

    /// <summary>Steps by which order <paramref name="order"/> lies above the cycle frequency.</summary>
    public int Offset(int order) => (int)Math.Round(Math.Log(order) / Step, MidpointRounding.AwayFromZero);
}
