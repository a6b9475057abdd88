using ShopDiag.Diagnosis.Quantities;

namespace ShopDiag.Diagnosis.BenchTests.LeakDown;

/// <summary>
/// The hole that would leak as much as a cylinder does, so that testers with different restrictors and supplies can be compared. Steady flow of air (ratio of specific
/// heats 1.4) through the tester's restrictor and then through the leak, choked where the pressure ratio is below 0.528; any text on compressible flow.
/// </summary>
public static class LeakOrifice
{
    /// <summary>The tester that a percentage is converted to: 0.040 in restrictor (FAA AC 43.13-1B, 8-14, bores below 5 in).</summary>
    public const double ReferenceMm = 1.016;

    /// <summary>Its supply: 552 kPa (80 psi), gauge.</summary>
    public const double ReferenceKPa = 552;

    private const double Gamma = Adiabatic.Gamma;
    private const double SeaLevelKPa = StandardAtmosphere.SeaLevelPascals / 1000;

    /// <summary>Ratio of the pressures below which the flow is choked: 0.52828.</summary>
    private static readonly double Critical = Math.Pow(2 / (Gamma + 1), Gamma / (Gamma - 1));

    /// <summary>False for a loss of nothing or of all, to a hundredth of a percent: no gauge tells what hole that is.</summary>
    public static bool SizesAHole(double percent) => percent is >= 0.01 and <= 99.99;

    /// <summary>Area of the leak as a multiple of the restrictor's.</summary>
    /// <param name="supplyKPa">Supply, gauge, above 0.</param>
    /// <param name="cylinderKPa">Pressure kept in the cylinder, gauge, above 0 and below the supply.</param>
    /// <param name="airKPa">Pressure of the air outside, absolute.</param>
    public static double AreaRatio(double supplyKPa, double cylinderKPa, double airKPa = SeaLevelKPa)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(supplyKPa);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(airKPa);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(cylinderKPa);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(cylinderKPa, supplyKPa);
        var (before, between) = (supplyKPa + airKPa, cylinderKPa + airKPa);
        return before * Flow(between / before) / (between * Flow(airKPa / between));
    }

    /// <summary>Diameter of the leak in millimetres, as one round hole like the restrictor (of a diameter above 0). Pressures as in <see cref="AreaRatio"/>.</summary>
    public static double DiameterMm(double restrictorMm, double supplyKPa, double cylinderKPa, double airKPa = SeaLevelKPa)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(restrictorMm);
        return restrictorMm * Math.Sqrt(AreaRatio(supplyKPa, cylinderKPa, airKPa));
    }

    /// <summary>
    /// What the reference tester would show at sea level, in percent, where another shows <paramref name="percent"/>. What sizes no hole
    /// (see <see cref="SizesAHole"/>) is given back as it is.
    /// </summary>
    public static double AsReference(double percent, double restrictorMm, double supplyKPa, double airKPa = SeaLevelKPa)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(restrictorMm);
        if (!SizesAHole(percent))
        {
            return percent;
        }

        var hole = DiameterMm(restrictorMm, supplyKPa, supplyKPa * (1 - (percent / 100)), airKPa);
        var (low, high) = (0.0, 100.0);
        for (var i = 0; i < 60; i++)
        {
            var middle = (low + high) / 2;
            var larger = DiameterMm(ReferenceMm, ReferenceKPa, ReferenceKPa * (1 - (middle / 100))) < hole;
            (low, high) = larger ? (middle, high) : (low, middle);
        }

        return (low + high) / 2;
    }

    // The flow function psi(r), constant once the flow is choked.
    private static double Flow(double ratio)
    {
        var r = Math.Clamp(ratio, Critical, 1);
        return Math.Sqrt(2 * Gamma / (Gamma - 1) * (Math.Pow(r, 2 / Gamma) - Math.Pow(r, (Gamma + 1) / Gamma)));
    }
}
