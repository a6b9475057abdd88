using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Causes;

namespace ShopDiag.Diagnosis.Evidence;

/// <summary>
/// A trouble that several cylinders share is strong or slight on all of them at once: cams far out leave no cylinder of the bank its compression, cams a little out leave it to all. So one hidden
/// yes-or-no for each kind of reading (<see cref="GroupModel"/>) is shared by all cylinders, and cylinders that read alike do not count as so many witnesses (<see cref="SharedGroup"/>).
/// </summary>
internal static class Strength
{
    /// <summary>How far strong and slight lie from the middle, in logits of the share that is not good. Common practice; no published figure.</summary>
    private const double Spread = 2.0;

    /// <summary>
    /// Takes one reading's distribution apart into the one of the trouble where it is strong and the one where it is slight, so that both together give it back: what is not good keeps its
    /// proportions, and slight is not less than on a sound engine. The same twice where the trouble does not add to what is not good.
    /// </summary>
    /// <param name="aspect">What is read.</param>
    /// <param name="shown">What the trouble shows, by outcome.</param>
    /// <param name="healthy">What a sound engine shows, by outcome.</param>
    /// <param name="slight">Probability that it is slight, above 0 and below 1; see <see cref="Cause.Slight"/>.</param>
    public static (double[] Strong, double[] Slight) Split(Aspect aspect, double[] shown, double[] healthy, double slight)
    {
        var bad = shown.Where((_, o) => !aspect.Outcomes[o].Good).Sum();
        var onSound = healthy.Where((_, o) => !aspect.Outcomes[o].Good).Sum();
        if (bad <= onSound || bad >= 1)
        {
            return (shown, shown);
        }

        var less = Math.Max(onSound, Logistic(Middle(bad, slight) - Spread));
        var more = (bad - (slight * less)) / (1 - slight);
        return (Scaled(aspect, shown, bad, more), Scaled(aspect, shown, bad, less));
    }

    // The logit about which strong and slight lie so that their mean is what the rule says, by halving.
    private static double Middle(double bad, double slight)
    {
        var (low, high) = (-20.0, 20.0);
        for (var i = 0; i < 60; i++)
        {
            var middle = (low + high) / 2;
            var mean = (slight * Logistic(middle - Spread)) + ((1 - slight) * Logistic(middle + Spread));
            (low, high) = mean < bad ? (middle, high) : (low, middle);
        }

        return low;
    }

    private static double[] Scaled(Aspect aspect, double[] shown, double bad, double wanted) =>
        [.. shown.Select((p, o) => p * (aspect.Outcomes[o].Good ? (1 - wanted) / (1 - bad) : wanted / bad))];

    private static double Logistic(double x) => 1 / (1 + Math.Exp(-x));
}
