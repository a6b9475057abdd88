using ShopDiag.Diagnosis.Quantities;

namespace ShopDiag.Diagnosis.BenchTests.CompressionDry;

/// <summary>The least compression allowed. Gauge pressures in kilopascal, in whole kilopascal with halves rounded up as makers print them.</summary>
public static class CompressionRules
{
    /// <summary>
    /// The least a cylinder may have beside the highest: GM's own example is 1035 kPa (150 psi) highest, so 725 kPa (105 psi)
    /// lowest at 70 %, which only comes out when halves are rounded up.
    /// </summary>
    public static double LeastBeside(double highestKPa, double percent) =>
        Math.Round(highestKPa * percent / 100, MidpointRounding.AwayFromZero);

    /// <summary>
    /// A limit given for sea level, at a height above it in metres. By default scaled by the pressure ratio of the standard atmosphere
    /// (ISO 2533), as a gauge reading does when the air is compressed the same way. Printed tables follow the density
    /// ratio instead and come out a few percent higher; with <paramref name="byDensity"/> that rule holds.
    /// </summary>
    public static double AtAltitude(double seaLevelKPa, double metres, bool byDensity = false) => metres == 0
        ? seaLevelKPa
        : Math.Round(seaLevelKPa * (byDensity ? StandardAtmosphere.Density(metres) / StandardAtmosphere.Density(0) : StandardAtmosphere.PressureRatio(metres)), MidpointRounding.AwayFromZero);
}
