namespace ShopDiag.Comebacks.Charts;

/// <summary>Ticks at numbers that people count in: 1, 2 or 5 times a power of ten apart (after Heckbert, Graphics Gems, 1990).</summary>
public static class NiceTicks
{
    private static readonly int[] Digits = [1, 2, 5, 10, 20];

    /// <summary>The multiples of the smallest nice step within the range, both ends included, of which there are at most so many.</summary>
    /// <param name="low">Lower end.</param>
    /// <param name="high">Upper end, above it.</param>
    /// <param name="most">How many at most, from 2.</param>
    /// <exception cref="ArgumentOutOfRangeException">The range is empty or not finite, or fewer than two ticks are allowed.</exception>
    public static double[] Of(double low, double high, int most)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(most, 2);
        if (!(high > low && double.IsFinite(high - low)))
        {
            throw new ArgumentOutOfRangeException(nameof(high), high, "Ticks need a range.");
        }

        for (var power = Math.Floor(Math.Log10((high - low) / most)); ; power++)
        {
            foreach (var digit in Digits.AsSpan(0, 3))
            {
                var step = digit * Math.Pow(10, power);

                // A range that ends on a tick but for rounding still has it.
                var (first, last) = (Math.Ceiling((low / step) - 1e-9), Math.Floor((high / step) + 1e-9));
                if (last - first + 1 <= most)
                {
                    return [.. Enumerable.Range(0, (int)(last - first + 1)).Select(i => Multiple(first + i, digit, power))];
                }
            }
        }
    }

    /// <summary>The lowest nice number from a number above 0 on.</summary>
    public static double Above(double value)
    {
        if (!(value > 0 && double.IsFinite(value)))
        {
            throw new ArgumentOutOfRangeException(nameof(value), value, "A nice number stands above a number above 0.");
        }

        var power = Math.Floor(Math.Log10(value));
        return Digits.Select(d => Multiple(1, d, power)).First(n => n >= value * (1 - 1e-9));
    }

    // Dividing by a whole power keeps 0.3 what it is; multiplying by 0.1 does not.
    private static double Multiple(double count, int digit, double power) =>
        power < 0 ? count * digit / Math.Pow(10, -power) : count * digit * Math.Pow(10, power);
}
