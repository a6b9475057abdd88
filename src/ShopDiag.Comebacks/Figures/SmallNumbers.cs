using System.Globalization;

namespace ShopDiag.Comebacks.Figures;

/// <summary>When a figure rests on too little to be taken at its word. All common practice.</summary>
public static class SmallNumbers
{
    /// <summary>Repairs below which a group is called small: 10.</summary>
    public const int LeastRepairs = 10;

    /// <summary>
    /// Comebacks to be expected on either side below which two are not compared: 5, the usual rule for chi-square (Cochran 1954). Below it the test finds
    /// differences that are none.
    /// </summary>
    public const double LeastExpected = 5;

    /// <summary>Cars a share still good must rest on, watched at least that long, to be drawn and told without a remark: 10.</summary>
    public const int LeastAtRisk = 10;

    /// <summary>Of the differences that are called such, the share that may be chance: 5 % (Benjamini and Hochberg).</summary>
    public const double ChanceAmongDifferences = 0.05;

    /// <summary>True when a number of repairs is small.</summary>
    public static bool AreSmall(int repairs) => repairs < LeastRepairs;

    /// <summary>What is said beside the figures of a small group; null for others.</summary>
    public static string? Remark(int repairs) => AreSmall(repairs)
        ? string.Create(CultureInfo.CurrentCulture, $"Small numbers: {repairs} {(repairs == 1 ? "repair" : "repairs")}. Chance can make any figure of so few.")
        : null;
}
