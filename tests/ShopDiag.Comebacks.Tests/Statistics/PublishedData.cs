using ShopDiag.Comebacks.Statistics;

namespace ShopDiag.Comebacks.Tests.Statistics;

/// <summary>Series from outside that the tests compute on, each with its source.</summary>
internal static class PublishedData
{
    /// <summary>Freireich et al., Blood 21 (1963) 699: weeks in remission with 6-MP; a minus means still in remission when last seen.</summary>
    public static readonly Observation[] SixMp = Weeks(6, 6, 6, -6, 7, -9, 10, -10, -11, 13, 16, -17, -19, -20, 22, 23, -25, -32, -32, -34, -35);

    /// <summary>The same trial, placebo.</summary>
    public static readonly Observation[] Placebo = Weeks(1, 1, 2, 2, 3, 4, 4, 5, 5, 8, 8, 8, 8, 11, 11, 12, 12, 15, 17, 22, 23);

    /// <summary>Benjamini and Hochberg, J. R. Statist. Soc. B 57 (1995) 289: fifteen comparisons of a trial in heart attacks.</summary>
    public static readonly double[] FifteenComparisons =
        [.0001, .0004, .0019, .0095, .0201, .0278, .0298, .0344, .0459, .3240, .4262, .5719, .6528, .7590, 1.000];

    /// <summary>Efron and Morris, Scientific American 236 (1977) 119: hits of 18 batters in their first 45 times at bat, 1970.</summary>
    public static readonly int[] Batters = [18, 17, 16, 15, 14, 14, 13, 12, 11, 11, 10, 10, 10, 10, 10, 9, 8, 7];

    /// <summary>The same batters' averages over the rest of the season (Efron and Morris, J. Am. Stat. Assoc. 70 (1975) 311, table 1; from memory).</summary>
    public static readonly double[] RestOfSeason =
        [.346, .298, .276, .222, .273, .270, .263, .210, .269, .230, .264, .256, .303, .264, .226, .286, .316, .200];

    /// <summary>NIST Statistical Reference Datasets, univariate summary statistics: Michelso, the speed of light in thousands of km/s.</summary>
    public static readonly double[] Michelso =
    [
        299.85, 299.74, 299.90, 300.07, 299.93, 299.85, 299.95, 299.98, 299.98, 299.88, 300.00, 299.98, 299.93, 299.65, 299.76, 299.81, 300.00, 300.00,
        299.96, 299.96, 299.96, 299.94, 299.96, 299.94, 299.88, 299.80, 299.85, 299.88, 299.90, 299.84, 299.83, 299.79, 299.81, 299.88, 299.88, 299.83,
        299.80, 299.79, 299.76, 299.80, 299.88, 299.88, 299.88, 299.86, 299.72, 299.72, 299.62, 299.86, 299.97, 299.95, 299.88, 299.91, 299.85, 299.87,
        299.84, 299.84, 299.85, 299.84, 299.84, 299.84, 299.89, 299.81, 299.81, 299.82, 299.80, 299.77, 299.76, 299.74, 299.75, 299.76, 299.91, 299.92,
        299.89, 299.86, 299.88, 299.72, 299.84, 299.85, 299.85, 299.78, 299.89, 299.84, 299.78, 299.81, 299.76, 299.81, 299.79, 299.81, 299.82, 299.85,
        299.87, 299.87, 299.81, 299.74, 299.81, 299.94, 299.95, 299.80, 299.81, 299.87,
    ];

    /// <summary>The rule of NIST's NumAcc2, 3 and 4: a value, then five hundred pairs a tenth below and above it.</summary>
    public static double[] NumAcc(decimal middle) =>
        [(double)middle, .. Enumerable.Range(0, 500).SelectMany(_ => new[] { (double)(middle - 0.1m), (double)(middle + 0.1m) })];

    private static Observation[] Weeks(params int[] weeks) => Array.ConvertAll(weeks, w => new Observation(Math.Abs(w), w > 0));
}
