namespace ShopDiag.Diagnosis.Quantities;

/// <summary>
/// The voltage that a gap between blunt electrodes takes to break down in air: 24.22 x + 6.08 √x kilovolt, where x is the gap in centimetres at the density of air at
/// 760 mmHg and 293 K. Source: the empirical formula for uniform fields in high-voltage textbooks, from memory. A worn plug comes near to it; sharp new edges spark
/// earlier.
/// </summary>
public static class UniformGap
{
    private const double ReferenceKelvin = 293;

    /// <summary>Kilovolts for a gap in millimetres at a pressure in atmospheres and a temperature in kelvin above 0. A gap or pressure below 0 counts as none.</summary>
    public static double Kilovolts(double millimetres, double atmospheres = 1, double kelvin = ReferenceKelvin)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(kelvin);
        var x = Math.Max(0, millimetres) / 10 * Math.Max(0, atmospheres) * ReferenceKelvin / kelvin;
        return (24.22 * x) + (6.08 * Math.Sqrt(x));
    }

    /// <summary>Kilovolts for a gap in millimetres under compression, taken as 10 atmospheres and 600 kelvin.</summary>
    public static double InCylinderKilovolts(double millimetres) => Kilovolts(millimetres, 10, 600);
}
