namespace ShopDiag.Obd.MonitorTests;

/// <summary>The average that a control unit keeps of the misfires over driving cycles (test 0B).</summary>
public static class MisfireAverage
{
    /// <summary>Weight of the newest driving cycle: new = 0.1 x current + 0.9 x previous (formula printed in Honda 2012 Insight manual, "Mode $06").</summary>
    private const double Newest = 0.1;

    /// <summary>The average after a driving cycle with so many misfires. Starts at 0.</summary>
    public static double Next(double previous, double misfires) => (Newest * misfires) + ((1 - Newest) * previous);
}
