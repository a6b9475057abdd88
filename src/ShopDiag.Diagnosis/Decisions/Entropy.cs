namespace ShopDiag.Diagnosis.Decisions;

/// <summary>How uncertain a belief is.</summary>
public static class Entropy
{
    /// <summary>
    /// H = - sum of p log2 p, in bits (Cover and Thomas, Elements of Information Theory): 0 where one thing is certain, log2 n where n are equally likely.
    /// Throws <see cref="ArgumentException"/> unless the probabilities add up to 1.
    /// </summary>
    public static double Bits(IReadOnlyCollection<double> probabilities)
    {
        ArgumentNullException.ThrowIfNull(probabilities);
        DecisionChecks.Distribution(probabilities, nameof(probabilities));
        return probabilities.Where(p => p > 0).Sum(p => p * -Math.Log2(p));
    }
}
