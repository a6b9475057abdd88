using System.Collections.Immutable;

namespace ShopDiag.Diagnosis.Decisions;

/// <summary>A reading that mends nothing but tells of the causes.</summary>
/// <param name="Cost">What it costs.</param>
/// <param name="Outcomes">How it may come out; for each cause (and for none of them) their likelihoods add up to 1.</param>
public sealed record Observation(double Cost, ImmutableArray<ObservedOutcome> Outcomes);

/// <summary>One way a reading may come out.</summary>
/// <param name="Likelihoods">Its probability under the cause of each action, in the order of the actions.</param>
/// <param name="Otherwise">Its probability where none of the actions would help; not read where their probabilities add up to 1.</param>
public sealed record ObservedOutcome(ImmutableArray<double> Likelihoods, double Otherwise = 0);

/// <summary>What a reading comes to before the repairs.</summary>
/// <param name="WithoutIt">Expected cost of repair without it, best order (ECR).</param>
/// <param name="WithItFirst">Expected cost with it first, its own cost included, then the best order for what it showed (ECO).</param>
public sealed record ObservationValue(double WithoutIt, double WithItFirst)
{
    /// <summary>True when it is worth doing: ECO below ECR.</summary>
    public bool IsWorthIt => WithItFirst < WithoutIt;
}

/// <summary>Whether a reading is worth doing before the repairs begin.</summary>
public static class Observations
{
    /// <summary>
    /// ECO(o) = C(o) + sum over outcomes k of P(o = k) ECR(best order given k), to be set against ECR (Heckerman, Breese and Rommelse, CACM 38(3) 1995). The actions
    /// share no strip-down. Throws <see cref="ArgumentException"/> where likelihoods and actions do not go together.
    /// </summary>
    public static ObservationValue Of(IReadOnlyList<RepairAction> actions, Observation observation, double costIfNoneHelps = 0)
    {
        ArgumentNullException.ThrowIfNull(actions);
        ArgumentNullException.ThrowIfNull(observation);
        Check(actions, observation);
        var cost = DecisionChecks.Cost(observation.Cost, nameof(observation));
        foreach (var outcome in observation.Outcomes)
        {
            var (seen, posterior) = Bayes.Update([.. actions.Select(a => a.Probability)], outcome.Likelihoods, outcome.Otherwise);
            cost += seen * RepairOrder.LeastExpectedCost(actions.Select((a, i) => a.With(posterior[i])), costIfNoneHelps);
        }

        return new ObservationValue(RepairOrder.LeastExpectedCost(actions, costIfNoneHelps), cost);
    }

    /// <summary>
    /// What knowing the cause beforehand would save: ECR less what the one action that helps costs. No reading is worth more than this.
    /// </summary>
    public static double OfPerfectInformation(IReadOnlyList<RepairAction> actions, double costIfNoneHelps = 0)
    {
        ArgumentNullException.ThrowIfNull(actions);
        var none = Math.Max(0, 1 - actions.Sum(a => a.Probability));
        return RepairOrder.LeastExpectedCost(actions, costIfNoneHelps) - actions.Sum(a => a.Probability * (a.FullCost + a.RepairCost)) - (none * costIfNoneHelps);
    }

    private static void Check(IReadOnlyList<RepairAction> actions, Observation observation)
    {
        var none = 1 - actions.Sum(a => a.Probability);
        if (observation.Outcomes.Any(o => o.Likelihoods.Length != actions.Count))
        {
            throw new ArgumentException("Each outcome needs one likelihood for each action.", nameof(observation));
        }

        for (var i = 0; i < actions.Count; i++)
        {
            DecisionChecks.Distribution([.. observation.Outcomes.Select(o => o.Likelihoods[i])], nameof(observation));
        }

        if (none > DecisionChecks.Rounding)
        {
            DecisionChecks.Distribution([.. observation.Outcomes.Select(o => o.Otherwise)], nameof(observation));
        }
    }
}
