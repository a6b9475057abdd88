namespace ShopDiag.Diagnosis.BenchTests.PowerBalance;

/// <summary>How a drop in speed compares with a healthy one.</summary>
public static class BalanceRules
{
    /// <summary>
    /// The least drop that passes, in whole rpm, half rounded up: the healthy drop times a percentage.
    /// Lincoln 1991 Continental, Cylinder Balance test: 150 rpm x 65 % = 98 rpm, 150 rpm x 43 % = 65 rpm.
    /// </summary>
    public static double LeastDrop(double healthyDropRpm, double percent) =>
        Math.Round(healthyDropRpm * percent / 100, MidpointRounding.AwayFromZero);

    /// <summary>Fewest cylinders of an engine that must be measured before any can be judged: three, or all of a smaller engine.</summary>
    public static int FewestCylinders(int cylinderCount) => Math.Min(3, cylinderCount);
}
