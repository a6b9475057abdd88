namespace ShopDiag.Diagnosis.Quantities;

/// <summary>
/// Air compressed without losing heat or mass: P2 = P1 r^1.4, T2 = T1 r^0.4 (any text on thermodynamics). Real cranking stays well below, so this is an
/// upper bound and never a limit.
/// </summary>
public static class Adiabatic
{
    /// <summary>Ratio of the specific heats of air.</summary>
    public const double Gamma = 1.4;

    /// <summary>Absolute pressure after compression, in the unit of <paramref name="pressure"/>. Throws unless the ratio of the volumes is 1 or more.</summary>
    public static double Pressure(double pressure, double ratio) => pressure * Math.Pow(Checked(ratio), Gamma);

    /// <summary>Temperature after compression in kelvin.</summary>
    public static double Kelvin(double kelvin, double ratio) => kelvin * Math.Pow(Checked(ratio), Gamma - 1);

    /// <summary>Gauge pressure after compression in kilopascal, against the same air outside that was drawn in.</summary>
    public static double GaugeKPa(double airKPa, double ratio) => Pressure(airKPa, ratio) - airKPa;

    private static double Checked(double ratio) => ratio >= 1 && double.IsFinite(ratio)
        ? ratio
        : throw new ArgumentOutOfRangeException(nameof(ratio), ratio, "A compression ratio is a finite number from 1.");
}
