namespace ShopDiag.Diagnosis.Statistics;

/// <summary>Location and spread of a handful of readings such that one wild reading cannot carry them away. All in the unit of the readings.</summary>
public static class Robust
{
    /// <summary>Makes the median absolute deviation of normal scatter equal to its standard deviation: 1/0.6745.</summary>
    private const double DeviationToSigma = 1.4826;

    /// <summary>Mean range of 2, 3 and 4 normal readings in standard deviations (Shewhart's d2).</summary>
    private static readonly double[] RangeToSigma = [1.128, 1.693, 2.059];

    /// <summary>The middle value, or the mean of the two middle ones. Throws <see cref="ArgumentException"/> when there is none.</summary>
    public static double Median(IEnumerable<double> values)
    {
        double[] sorted = [.. values.Order()];
        if (sorted.Length == 0)
        {
            throw new ArgumentException("The median of no values.", nameof(values));
        }

        var middle = sorted.Length / 2;
        return sorted.Length % 2 == 1 ? sorted[middle] : (sorted[middle - 1] / 2) + (sorted[middle] / 2);
    }

    /// <summary>
    /// The level of the sound ones among readings of which some may be far too low: the lower median of the larger half.
    /// Up to half of four or more too low, or (from three on) one too high, do not move it beyond the sound readings.
    /// Throws <see cref="ArgumentException"/> when there is none.
    /// </summary>
    public static double SoundLevel(IEnumerable<double> values)
    {
        double[] descending = [.. values.OrderDescending()];
        return descending.Length == 0
            ? throw new ArgumentException("The sound level of no values.", nameof(values))
            : descending[(descending.Length + 1) / 2 / 2];
    }

    /// <summary>Standard deviation estimated from the median absolute deviation about the median; 0 for one value.</summary>
    public static double Sigma(IEnumerable<double> values)
    {
        double[] all = [.. values];
        var median = Median(all);
        return DeviationToSigma * Median(all.Select(v => Math.Abs(v - median)));
    }

    /// <summary>Standard deviation of repeated trials: from the range for up to four, from <see cref="Sigma"/> for more; null for fewer than two.</summary>
    public static double? TrialSigma(IReadOnlyCollection<double> trials)
    {
        ArgumentNullException.ThrowIfNull(trials);
        return trials.Count switch
        {
            < 2 => null,
            <= 4 => (trials.Max() - trials.Min()) / RangeToSigma[trials.Count - 2],
            _ => Sigma(trials),
        };
    }

    /// <summary>One standard deviation for several series of trials together: the root of their mean square; null when no series has one.</summary>
    public static double? Pooled(IEnumerable<double?> sigmas)
    {
        // Sorted, so that numbering the cylinders otherwise does not change the last digit of the sum.
        double[] squares = [.. sigmas.OfType<double>().Select(s => s * s).Order()];
        return squares.Length == 0 ? null : Math.Sqrt(squares.Average());
    }
}
