namespace ShopDiag.Comebacks.Statistics;

/// <summary>Mean and scatter of a series, in its unit.</summary>
/// <param name="Count">How many values, from 1.</param>
/// <param name="Mean">Their mean.</param>
/// <param name="StandardDeviation">Sample standard deviation, over n − 1; null for one value.</param>
/// <param name="LagOne">
/// Correlation of each value with the next, Σ(x−m)(x'−m)/Σ(x−m)² as NIST certifies it; null where the values do not differ.
/// </param>
public sealed record Moments(int Count, double Mean, double? StandardDeviation, double? LagOne)
{
    /// <summary>
    /// Works them out in two passes over the values with compensated sums (Neumaier 1974), so that values that differ in their last digits only still have a
    /// scatter: the textbook formula with the sum of squares loses it.
    /// </summary>
    /// <exception cref="ArgumentException">There is no value, or one is not finite.</exception>
    public static Moments Of(IReadOnlyList<double> values)
    {
        ArgumentNullException.ThrowIfNull(values);
        if (values.Count == 0 || values.Any(v => !double.IsFinite(v)))
        {
            throw new ArgumentException("Moments need at least one value, all of them finite.", nameof(values));
        }

        var about = Sum(values) / values.Count;
        double[] off = [.. values.Select(v => v - about)];

        // What rounding left in the mean shows as a mean of the distances from it.
        var rest = Sum(off) / off.Length;
        var squares = Sum([.. off.Select(d => (d - rest) * (d - rest))]);
        var neighbours = Sum([.. off.Zip(off.Skip(1), (a, b) => (a - rest) * (b - rest))]);
        return new(
            values.Count,
            about + rest,
            values.Count > 1 ? Math.Sqrt(squares / (values.Count - 1)) : null,
            squares > 0 ? neighbours / squares : null);
    }

    private static double Sum(IReadOnlyList<double> values)
    {
        var (sum, lost) = (0.0, 0.0);
        foreach (var value in values)
        {
            var next = sum + value;
            lost += Math.Abs(sum) >= Math.Abs(value) ? sum - next + value : value - next + sum;
            sum = next;
        }

        return sum + lost;
    }
}
