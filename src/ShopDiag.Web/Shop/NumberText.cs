using System.Globalization;
using System.Text.RegularExpressions;
using ShopDiag.Diagnosis;

namespace ShopDiag.Web.Shop;

/// <summary>Numbers as people type them on either side of the ocean.</summary>
public static partial class NumberText
{
    /// <summary>
    /// Reads a number: a point or a comma before the decimals, commas or blanks between thousands. <c>1,200</c> is
    /// twelve hundred, <c>0,125</c> and <c>1,2</c> are decimals.
    /// </summary>
    public static Parsed<double> Read(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        var line = text.Trim().Replace('−', '-');
        var plain = Thousands().IsMatch(line) ? line.Replace(",", "", StringComparison.Ordinal).Replace(" ", "", StringComparison.Ordinal) : line.Replace(',', '.');
        return double.TryParse(plain, NumberStyles.AllowDecimalPoint | NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var number) && double.IsFinite(number)
            ? number
            : new InputError("", $"“{line}” is no number.");
    }

    /// <summary>Writes a number with at most some decimals and nothing behind them that carries no information.</summary>
    public static string Write(double number, int decimals) =>
        Math.Round(number, decimals, MidpointRounding.AwayFromZero).ToString("0." + new string('#', decimals), CultureInfo.InvariantCulture);

    [GeneratedRegex(@"^-?[1-9]\d{0,2}([, ]\d{3})+(\.\d+)?$", RegexOptions.CultureInvariant)]
    private static partial Regex Thousands();
}
