using MathNet.Numerics.Distributions;

namespace ShopDiag.Comebacks.Statistics;

/// <summary>The confidence of intervals, one for the whole program.</summary>
internal static class Confidence
{
    /// <summary>95 %: what every interval of the program is made with unless it is asked for another.</summary>
    public const double Usual = 0.95;

    /// <summary>How many standard deviations a two-sided interval of a confidence reaches to either side: 1.959964 for 95 %.</summary>
    public static double Deviations(double confidence) => Normal.InvCDF(0, 1, 0.5 + (Checked(confidence) / 2));

    /// <summary>The confidence itself. Throws <see cref="ArgumentOutOfRangeException"/> unless it lies between 0 and 1, both excluded.</summary>
    public static double Checked(double confidence) => confidence > 0 && confidence < 1
        ? confidence
        : throw new ArgumentOutOfRangeException(nameof(confidence), confidence, "A confidence lies between 0 and 1.");
}
