using MathNet.Numerics;

namespace ShopDiag.Comebacks.Statistics;

/// <summary>The chi-square distribution.</summary>
internal static class ChiSquare
{
    /// <summary>Probability of a value at least as large: the upper regularized gamma function Q(df/2, x/2). 1 for no degrees of freedom.</summary>
    public static double Above(double value, int degreesOfFreedom) =>
        degreesOfFreedom == 0 ? 1 : Math.Clamp(SpecialFunctions.GammaUpperRegularized(degreesOfFreedom / 2.0, value / 2), 0, 1);

    /// <summary>
    /// d'V⁻¹d of deviations and their covariances, and over how many of them: those that the others determine are left out. Gaussian elimination with the largest
    /// remaining variance first; what is left of a variance below a billionth of the largest is none.
    /// </summary>
    public static (double Value, int DegreesOfFreedom) Of(double[] deviations, double[,] covariances)
    {
        var n = deviations.Length;
        var (d, v) = ((double[])deviations.Clone(), (double[,])covariances.Clone());
        List<int> left = [.. Enumerable.Range(0, n)];
        var least = n == 0 ? 0 : left.Max(i => v[i, i]) * 1e-9;
        var (sum, degrees) = (0.0, 0);
        while (left.Count > 0 && left.MaxBy(i => v[i, i]) is var pivot && v[pivot, pivot] > least)
        {
            left.Remove(pivot);
            sum += d[pivot] * d[pivot] / v[pivot, pivot];
            degrees++;
            foreach (var i in left)
            {
                var factor = v[i, pivot] / v[pivot, pivot];
                d[i] -= factor * d[pivot];
                foreach (var j in left)
                {
                    v[i, j] -= factor * v[pivot, j];
                }
            }
        }

        return (sum, degrees);
    }
}
