using System.Globalization;
using ShopDiag.Diagnosis.Quantities;

namespace ShopDiag.Diagnosis.BenchTests;

/// <summary>Numbers as the reasons of findings say them: invariant, base unit first, the US unit beside it where it differs.</summary>
internal static class Words
{
    private static readonly string[] Formats = ["0", "0.#", "0.##", "0.###"];

    /// <summary>A number with at most three decimals, half away from zero.</summary>
    public static string Number(double value, int decimals = 0)
    {
        var rounded = Math.Round(value, decimals, MidpointRounding.AwayFromZero);
        return (rounded == 0 ? 0 : rounded).ToString(Formats[decimals], CultureInfo.InvariantCulture);
    }

    /// <summary>Revolutions a minute.</summary>
    public static string Rpm(double rpm) => Number(rpm) + " rpm";

    /// <summary>Percent.</summary>
    public static string Percent(double percent, int decimals = 0) => Number(percent, decimals) + " %";

    /// <summary>Gauge pressure.</summary>
    public static string Pressure(double kPa) => Both("gauge-pressure", kPa);

    /// <summary>Low gauge pressure, as in an exhaust.</summary>
    public static string LowPressure(double kPa) => Both("low-pressure", kPa);

    /// <summary>Vacuum.</summary>
    public static string Vacuum(double kPa) => Both("vacuum", kPa);

    /// <summary>A length of millimetres.</summary>
    public static string Length(double millimetres) => Both("length", millimetres);

    /// <summary>A temperature.</summary>
    public static string Temperature(double celsius) => Both("temperature", celsius);

    /// <summary>A resistance.</summary>
    public static string Ohm(double ohm) => Number(ohm, ohm < 100 ? 2 : 0) + " ohm";

    /// <summary>A voltage.</summary>
    public static string Volts(double volts) => Number(volts, 1) + " V";

    /// <summary>Whose limit it is, to follow its value: the engine's own or the general one.</summary>
    public static string Whose(this EvaluationInput input, string limit) =>
        input.Limits.IsOwn(limit) ? "this engine's limit" : "the general limit";

    private static string Both(string quantity, double value)
    {
        var units = Quantity.All[quantity];
        return $"{units.Base.Format(value, CultureInfo.InvariantCulture)} ({units.For("us").Format(value, CultureInfo.InvariantCulture)})";
    }
}
