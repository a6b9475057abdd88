namespace ShopDiag.Diagnosis.Quantities;

/// <summary>
/// How the resistance of a copper winding changes with its temperature: R = R20 (1 + 0.00393 (t - 20)).
/// Source: Dellinger, NBS Bulletin 7 (1911), standard annealed copper.
/// </summary>
public static class Copper
{
    private const double PerKelvinAt20 = 0.00393;
    private const double Reference = 20;

    /// <summary>Resistance at a temperature in degrees Celsius of a winding that has <paramref name="ohmAt20"/> at 20 C.</summary>
    public static double At(double celsius, double ohmAt20) => ohmAt20 * Factor(celsius);

    /// <summary>Resistance at 20 C of a winding that has <paramref name="ohm"/> at a temperature in degrees Celsius above -200.</summary>
    public static double At20(double ohm, double celsius) => ohm / Factor(celsius);

    private static double Factor(double celsius) => 1 + (PerKelvinAt20 * (celsius - Reference));
}
