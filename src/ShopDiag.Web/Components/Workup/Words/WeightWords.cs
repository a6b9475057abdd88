using System.Globalization;

namespace ShopDiag.Web.Components.WorkupViews;

/// <summary>Plain words for how much one reading weighs for or against a cause. The weight is the base-2 logarithm of a likelihood ratio.</summary>
public static class WeightWords
{
    /// <summary>From here on a reading speaks at all: a twentieth of a doubling is noise to a reader.</summary>
    private const double Least = 0.1;

    /// <summary>The weight in words, without the side: <c>strongly</c> from a factor of 10, <c>clearly</c> from 4, <c>somewhat</c> from 1.7.</summary>
    public static string HowMuch(double bits) => Math.Abs(bits) switch
    {
        >= 3.32 => "strongly",
        >= 2 => "clearly",
        >= 0.77 => "somewhat",
        >= Least => "slightly",
        _ => "hardly",
    };

    /// <summary>The weight with its side: <c>speaks clearly for it</c>.</summary>
    public static string Side(double bits) => Math.Abs(bits) < Least
        ? "hardly speaks either way"
        : $"speaks {HowMuch(bits)} {(bits > 0 ? "for" : "against")} it";

    /// <summary>The weight in bits with its sign: <c>+2.1 bits</c>.</summary>
    public static string Bits(double bits) =>
        (bits < 0 ? "−" : "+") + Number(Math.Abs(bits), "0.0") + (Math.Abs(Math.Abs(bits) - 1) < 0.05 ? " bit" : " bits");

    /// <summary>What the weight does to the odds: <c>4.3 times as likely with this fault</c>; below 1 turned round.</summary>
    public static string Factor(double bits)
    {
        var factor = Math.Pow(2, Math.Abs(bits));
        var number = factor >= 1000 ? "over 1,000" : Number(factor, factor < 10 ? "0.0" : "0");
        return $"{number} times as likely {(bits >= 0 ? "with" : "without")} this fault";
    }

    private static string Number(double value, string format) => value.ToString(format, CultureInfo.InvariantCulture);
}
