using ShopDiag.Diagnosis.Quantities;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests.CompressionDry;

/// <summary>The least compression allowed. Gauge pressures in kilopascal, in whole kilopascal with halves rounded up as makers print them.</summary>
public static class CompressionRules
{
    private const string ByDensity = "compression-altitude-density-ratio";

    /// <summary>
    /// The least a cylinder may have beside the highest: GM's own example is 1035 kPa (150 psi) highest, so 725 kPa (105 psi)
    /// lowest at 70 %, which only comes out when halves are rounded up.
    /// </summary>
    public static double LeastBeside(double highestKPa, double percent) =>
        Math.Round(highestKPa * percent / 100, MidpointRounding.AwayFromZero);

    /// <summary>
    /// A limit given for sea level, at a height above it in metres, scaled by a ratio of the standard atmosphere (ISO 2533). Printed tables give 0.943 at
    /// 2000 ft, so 141.5 psi for 150: the density ratio; the pressure ratio there is 0.930.
    /// </summary>
    public static double AtAltitude(double seaLevelKPa, double metres, AltitudeRule rule) => metres == 0
        ? seaLevelKPa
        : Math.Round(seaLevelKPa * Ratio(metres, rule), MidpointRounding.AwayFromZero);

    /// <summary>The most that air alone gives at a compression ratio and a height in metres: no heat and no air lost, all of the stroke used.</summary>
    public static double MostOfAir(double compressionRatio, double metres) =>
        Adiabatic.GaugeKPa(StandardAtmosphere.Pascals(metres) / 1000, compressionRatio);

    /// <summary>The rule that holds for an engine: its own where one is set, the shop's otherwise.</summary>
    internal static AltitudeRule RuleFor(EvaluationInput input) => input.Limits.IsOwn(ByDensity)
        ? input.Limits[ByDensity] >= 0.5 ? AltitudeRule.DensityRatio : AltitudeRule.PressureRatio
        : input.Shop.AltitudeRule;

    /// <summary>The rule that carried a limit to the shop's height, in words to follow the limit; nothing at sea level.</summary>
    internal static string InWords(EvaluationInput input) => input.Shop.AltitudeMetres == 0
        ? ""
        : $"; for {Words.Number(input.Shop.AltitudeMetres)} m above sea level scaled by the {Name(RuleFor(input))} of the standard atmosphere";

    private static double Ratio(double metres, AltitudeRule rule) => rule switch
    {
        AltitudeRule.PressureRatio => StandardAtmosphere.PressureRatio(metres),
        AltitudeRule.DensityRatio => StandardAtmosphere.DensityRatio(metres),
        _ => throw new InvalidOperationException($"Unknown rule {rule}."),
    };

    private static string Name(AltitudeRule rule) => rule switch
    {
        AltitudeRule.PressureRatio => "pressure ratio",
        AltitudeRule.DensityRatio => "density ratio",
        _ => throw new InvalidOperationException($"Unknown rule {rule}."),
    };
}
