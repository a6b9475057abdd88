namespace ShopDiag.Diagnosis.Statistics;

/// <summary>Counts of rare events that happen by chance.</summary>
public static class Poisson
{
    private const double Negligible = 1e-18;

    /// <summary>
    /// Probability of seeing at least <paramref name="count"/> events where <paramref name="mean"/> are expected.
    /// Throws <see cref="ArgumentOutOfRangeException"/> unless both are finite and not below 0.
    /// </summary>
    public static double AtLeast(long count, double mean)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(count);
        if (!(mean >= 0 && double.IsFinite(mean)))
        {
            throw new ArgumentOutOfRangeException(nameof(mean), mean, "The expected count must be a finite number from 0.");
        }

        return (count, mean) switch
        {
            (0, _) => 1,
            (_, 0) => 0,
            // Each tail is summed away from the mean, where its terms only shrink.
            _ when count > mean => Math.Min(1, UpperTail(count, mean)),
            _ => Math.Clamp(1 - LowerTail(count - 1, mean), 0, 1),
        };
    }

    /// <summary>
    /// Between which means the true one lies when <paramref name="count"/> events were seen, missing it with at most the given chance, half of it on either
    /// side (Garwood 1936). Throws <see cref="ArgumentOutOfRangeException"/> for a count below 0 or a chance outside 0 to 1, both excluded.
    /// </summary>
    public static (double Low, double High) Between(long count, double chance)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(count);
        if (!(chance > 0 && chance < 1))
        {
            throw new ArgumentOutOfRangeException(nameof(chance), chance, "The chance must lie between 0 and 1.");
        }

        return (count == 0 ? 0 : MeanWhere(count, chance / 2), MeanWhere(count + 1, 1 - (chance / 2)));
    }

    /// <summary>
    /// The mean at which at least <paramref name="count"/> events, 1 or more, have a probability: Newton's method, the slope being the probability of one event
    /// less, and halving where a step would leave what is still possible.
    /// </summary>
    private static double MeanWhere(long count, double probability)
    {
        var (low, high) = (0.0, count + 10.0);
        while (AtLeast(count, high) < probability)
        {
            high *= 2;
        }

        var mean = (double)count;
        for (var i = 0; i < 100 && high - low > 1e-9 * high; i++)
        {
            var off = AtLeast(count, mean) - probability;
            (low, high) = off < 0 ? (mean, high) : (low, mean);
            var next = mean - (off / Probability(count - 1, mean));
            next = next > low && next < high ? next : (low + high) / 2;
            if (Math.Abs(next - mean) <= 1e-10 * mean)
            {
                return next;
            }

            mean = next;
        }

        return (low + high) / 2;
    }

    private static double UpperTail(long from, double mean)
    {
        var term = Probability(from, mean);
        var sum = 0.0;
        for (var i = from; term > sum * Negligible && term > 0; i++)
        {
            sum += term;
            term *= mean / (i + 1);
        }

        return sum;
    }

    private static double LowerTail(long from, double mean)
    {
        var term = Probability(from, mean);
        var sum = 0.0;
        for (var i = from; i >= 0 && term > sum * Negligible; i--)
        {
            sum += term;
            term *= i / mean;
        }

        return sum;
    }

    private static double Probability(long count, double mean) =>
        Math.Exp((count * Math.Log(mean)) - mean - LogFactorial(count));

    /// <summary>ln(n!): summed while small, by Stirling's series (error below 1e-12) from 32 on.</summary>
    private static double LogFactorial(long n)
    {
        if (n < 32)
        {
            var log = 0.0;
            for (var i = 2; i <= n; i++)
            {
                log += Math.Log(i);
            }

            return log;
        }

        var x = (double)n;
        return (x * Math.Log(x)) - x + (0.5 * Math.Log(2 * Math.PI * x)) + (1 / (12 * x)) - (1 / (360 * x * x * x)) + (1 / (1260 * Math.Pow(x, 5)));
    }
}
