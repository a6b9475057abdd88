namespace ShopDiag.Diagnosis.Decisions;

/// <summary>What the numbers of a decision must be.</summary>
internal static class DecisionChecks
{
    /// <summary>How far probabilities may add up past 1 by rounding.</summary>
    public const double Rounding = 1e-9;

    /// <summary>A probability from 0 to 1, or throws.</summary>
    public static double Probability(double value, string name) => value is >= 0 and <= 1
        ? value
        : throw new ArgumentOutOfRangeException(name, value, "A probability must lie from 0 to 1.");

    /// <summary>A cost from 0, finite, or throws.</summary>
    public static double Cost(double value, string name) => value >= 0 && double.IsFinite(value)
        ? value
        : throw new ArgumentOutOfRangeException(name, value, "A cost must be a finite number from 0.");

    /// <summary>Throws unless the probabilities add up to at most 1.</summary>
    public static void AtMostOne(IEnumerable<double> probabilities, string name)
    {
        if (probabilities.Sum() > 1 + Rounding)
        {
            throw new ArgumentException("The probabilities of causes that exclude each other must add up to at most 1.", name);
        }
    }

    /// <summary>Throws unless they are probabilities that add up to 1.</summary>
    public static void Distribution(IReadOnlyCollection<double> probabilities, string name)
    {
        foreach (var p in probabilities)
        {
            Probability(p, name);
        }

        if (Math.Abs(probabilities.Sum() - 1) > Rounding)
        {
            throw new ArgumentException("The probabilities must add up to 1.", name);
        }
    }
}
