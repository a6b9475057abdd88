namespace ShopDiag.Diagnosis.BenchTests.LeakDown;

/// <summary>Leakage from the two gauges of a tester.</summary>
public static class LeakRate
{
    /// <summary>
    /// Percent of the supply that leaks away: 100 (supply - cylinder) / supply, gauge pressures in the same unit (FAA AC 43.13-1B, 8-14).
    /// Chrysler 2002 Dakota: 552 kPa in, 414 kPa kept is 25 %. Throws <see cref="ArgumentOutOfRangeException"/> unless
    /// supply is above 0 and cylinder from 0 to supply.
    /// </summary>
    public static double Percent(double supply, double cylinder)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(supply);
        ArgumentOutOfRangeException.ThrowIfNegative(cylinder);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(cylinder, supply);
        return 100 * (supply - cylinder) / supply;
    }
}
