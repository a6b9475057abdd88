namespace ShopDiag.Diagnosis.Quantities;

/// <summary>
/// The standard atmosphere of ISO 2533 (the same as US Standard 1976 below 11 km): pressure, temperature and density by
/// geopotential height in metres. Heights outside -1000 to 11000 m are held at these bounds.
/// </summary>
public static class StandardAtmosphere
{
    /// <summary>Pressure at sea level in pascal.</summary>
    public const double SeaLevelPascals = 101325;

    private const double SeaLevelKelvin = 288.15;
    private const double KelvinPerMetre = 0.0065;
    private const double Exponent = 5.25588;
    private const double GasConstant = 287.053;

    /// <summary>Temperature in kelvin.</summary>
    public static double Kelvin(double metres) => SeaLevelKelvin - (KelvinPerMetre * Math.Clamp(metres, -1000, 11000));

    /// <summary>Pressure in pascal.</summary>
    public static double Pascals(double metres) => SeaLevelPascals * PressureRatio(metres);

    /// <summary>Pressure as a share of that at sea level: what a gauge reading of compression scales with.</summary>
    public static double PressureRatio(double metres) => Math.Pow(Kelvin(metres) / SeaLevelKelvin, Exponent);

    /// <summary>Density in kilograms a cubic metre.</summary>
    public static double Density(double metres) => Pascals(metres) / (GasConstant * Kelvin(metres));

    /// <summary>Density as a share of that at sea level: what printed correction factors for compression follow.</summary>
    public static double DensityRatio(double metres) => Density(metres) / Density(0);
}
