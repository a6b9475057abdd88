using System.Collections.Immutable;

namespace ShopDiag.Diagnosis.Decisions;

/// <summary>Bayes' rule over causes that exclude each other.</summary>
public static class Bayes
{
    /// <summary>
    /// What is believed after an outcome was seen. Throws <see cref="ArgumentException"/> where a number is no probability, the priors add up to more than 1 or the two
    /// lists differ in length.
    /// </summary>
    /// <param name="priors">Probability of each cause before; what they lack to 1 is none of them.</param>
    /// <param name="likelihoods">Probability of the outcome under each cause.</param>
    /// <param name="otherwise">Probability of the outcome where it is none of them.</param>
    public static BayesUpdate Update(IReadOnlyList<double> priors, IReadOnlyList<double> likelihoods, double otherwise = 0)
    {
        ArgumentNullException.ThrowIfNull(priors);
        ArgumentNullException.ThrowIfNull(likelihoods);
        if (priors.Count != likelihoods.Count)
        {
            throw new ArgumentException("Each prior needs one likelihood.", nameof(likelihoods));
        }

        DecisionChecks.AtMostOne(priors.Select(p => DecisionChecks.Probability(p, nameof(priors))), nameof(priors));
        var joint = priors.Select((p, i) => p * DecisionChecks.Probability(likelihoods[i], nameof(likelihoods))).ToArray();
        var none = Math.Max(0, 1 - priors.Sum()) * DecisionChecks.Probability(otherwise, nameof(otherwise));
        var seen = joint.Sum() + none;

        // Rounding must not lift a certainty above 1.
        return new BayesUpdate(Math.Min(1, seen), [.. joint.Select(j => seen > 0 ? Math.Min(1, j / seen) : 0)]);
    }
}

/// <summary>What an outcome does to a belief.</summary>
/// <param name="Seen">Probability of the outcome before it was seen.</param>
/// <param name="Posterior">Probability of each cause after; all 0 where the outcome is impossible.</param>
public sealed record BayesUpdate(double Seen, ImmutableArray<double> Posterior);
