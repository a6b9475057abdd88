using System.Globalization;
using ShopDiag.Diagnosis;

namespace ShopDiag.Estimates;

/// <summary>Amounts in minor units, as people write them.</summary>
public static class Money
{
    /// <summary>Largest amount that can be typed: far above any repair, far below any overflow.</summary>
    public const long MostMinor = 1_000_000_000;

    /// <summary>Decimals of a currency (ISO 4217): 2 but for the few that have none or three.</summary>
    public static int Decimals(string currency) => currency switch
    {
        "BIF" or "CLP" or "DJF" or "GNF" or "ISK" or "JPY" or "KMF" or "KRW" or "PYG" or "RWF" or "UGX" or "VND" or "VUV" or "XAF" or "XOF" or "XPF" => 0,
        "BHD" or "IQD" or "JOD" or "KWD" or "LYD" or "OMR" or "TND" => 3,
        _ => 2,
    };

    /// <summary>An amount without the currency: <c>120.50</c>.</summary>
    public static string Plain(long minor, string currency) =>
        (minor / (decimal)Math.Pow(10, Decimals(currency))).ToString("F" + Decimals(currency), CultureInfo.InvariantCulture);

    /// <summary>An amount as it is shown: with the sign of its currency where one is in common use, else with its three letters, and commas between thousands.</summary>
    public static string Say(long minor, string currency)
    {
        var amount = (Math.Abs(minor) / (decimal)Math.Pow(10, Decimals(currency))).ToString("N" + Decimals(currency), CultureInfo.InvariantCulture);
        var sign = minor < 0 ? "\u2212" : "";
        return currency switch
        {
            "USD" or "CAD" or "AUD" or "NZD" => $"{sign}${amount}",
            "EUR" => $"{sign}\u20AC{amount}",
            "GBP" => $"{sign}\u00A3{amount}",
            _ => $"{sign}{amount} {currency}",
        };
    }

    /// <summary>Reads an amount; a point before the decimals, blanks and commas only between thousands.</summary>
    public static Parsed<long> Read(string text, string currency)
    {
        ArgumentNullException.ThrowIfNull(text);
        var decimals = Decimals(currency);
        const NumberStyles styles = NumberStyles.AllowDecimalPoint | NumberStyles.AllowThousands | NumberStyles.AllowLeadingWhite | NumberStyles.AllowTrailingWhite;
        if (HasOddComma(text) || !decimal.TryParse(text, styles, CultureInfo.InvariantCulture, out var amount))
        {
            return new InputError("", $"“{text.Trim()}” is no amount. Write it with a point before the decimals, such as 120.50.");
        }

        var minor = amount * (decimal)Math.Pow(10, decimals);
        if (minor != decimal.Truncate(minor))
        {
            return new InputError("", decimals == 0 ? $"{currency} has no decimals." : $"{currency} has {decimals} decimals at most.");
        }

        return minor is >= 0 and <= MostMinor ? (long)minor : new InputError("", $"An amount from 0 to {Plain(MostMinor, currency)}.");
    }

    // "120,50" would otherwise be read as twelve thousand and fifty.
    private static bool HasOddComma(string text)
    {
        var whole = text.Trim().Split('.')[0].Split(',');
        return whole.Skip(1).Any(group => group.Length != 3) || text.Split('.').Skip(1).Any(d => d.Contains(','));
    }
}
