using System.Collections.Immutable;

namespace ShopDiag.Diagnosis.Decisions;

/// <summary>
/// A choice among acts whose gain depends on a state that is not known: what knowing it, or reading something of it, is worth (Clemen, Making Hard Decisions).
/// </summary>
public sealed class DecisionTable
{
    private readonly ImmutableArray<double> _probabilities;
    private readonly ImmutableArray<ImmutableArray<double>> _gains;

    /// <summary>Makes a table. Throws <see cref="ArgumentException"/> unless the probabilities add up to 1 and every act has one finite gain a state.</summary>
    /// <param name="probabilities">Probability of each state.</param>
    /// <param name="gains">For each act its gain in each state.</param>
    public DecisionTable(ImmutableArray<double> probabilities, ImmutableArray<ImmutableArray<double>> gains)
    {
        DecisionChecks.Distribution(probabilities, nameof(probabilities));
        if (gains.IsDefaultOrEmpty || gains.Any(g => g.Length != probabilities.Length || !g.All(double.IsFinite)))
        {
            throw new ArgumentException("Every act needs one finite gain for each state.", nameof(gains));
        }

        (_probabilities, _gains) = (probabilities, gains);
    }

    /// <summary>Expected gain of the best act on what is known now.</summary>
    public double BestExpectedGain => Best(_probabilities);

    /// <summary>Expected value of perfect information: the expected best gain less the best expected gain; never below 0.</summary>
    public double PerfectInformation
    {
        get
        {
            var known = _probabilities.Select((p, s) => p * _gains.Max(g => g[s])).Sum();
            return Math.Max(0, known - BestExpectedGain);
        }
    }

    /// <summary>
    /// Expected value of a reading, its cost not taken off: never below 0, never above <see cref="PerfectInformation"/>, and 0 where no outcome changes the act chosen.
    /// </summary>
    /// <param name="likelihoods">For each outcome its probability in each state; in each state they add up to 1.</param>
    public double Information(ImmutableArray<ImmutableArray<double>> likelihoods)
    {
        if (likelihoods.Any(l => l.Length != _probabilities.Length))
        {
            throw new ArgumentException("Each outcome needs one likelihood for each state.", nameof(likelihoods));
        }

        for (var s = 0; s < _probabilities.Length; s++)
        {
            DecisionChecks.Distribution([.. likelihoods.Select(l => l[s])], nameof(likelihoods));
        }

        // The best act is chosen on the joint weights: scaling to a posterior and back would change nothing.
        return Math.Max(0, likelihoods.Sum(l => Best([.. _probabilities.Select((p, s) => p * l[s])])) - BestExpectedGain);
    }

    private double Best(ImmutableArray<double> weights) => _gains.Max(g => g.Select((gain, s) => gain * weights[s]).Sum());
}
