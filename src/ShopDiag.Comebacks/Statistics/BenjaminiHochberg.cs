namespace ShopDiag.Comebacks.Statistics;

/// <summary>
/// Many comparisons at once: the step-up rule of Benjamini and Hochberg (J. R. Statist. Soc. B 57 (1995) 289). Of the differences that it lets stand no more than
/// the given share is expected to be chance, where the comparisons are independent or lean the same way.
/// </summary>
public static class BenjaminiHochberg
{
    /// <summary>
    /// The adjusted probabilities, in the order given: for the k-th smallest of m the smallest p·m/j over the j-th ones from it on. A comparison stands at rate q
    /// when its adjusted probability is not above q.
    /// </summary>
    /// <exception cref="ArgumentOutOfRangeException">A probability lies outside 0 to 1.</exception>
    public static double[] Adjusted(IReadOnlyList<double> probabilities)
    {
        ArgumentNullException.ThrowIfNull(probabilities);
        double[] given = [.. probabilities.Select(Checked)];
        var order = Enumerable.Range(0, given.Length).OrderByDescending(i => given[i]).ToArray();
        var adjusted = new double[order.Length];
        var least = 1.0;
        for (var k = 0; k < order.Length; k++)
        {
            least = Math.Min(least, given[order[k]] * ((double)order.Length / (order.Length - k)));
            adjusted[order[k]] = least;
        }

        return adjusted;
    }

    private static double Checked(double probability) => probability >= 0 && probability <= 1
        ? probability
        : throw new ArgumentOutOfRangeException(nameof(probability), probability, "A probability lies between 0 and 1.");
}
