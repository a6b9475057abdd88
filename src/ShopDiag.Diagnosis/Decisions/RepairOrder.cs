using System.Collections.Immutable;

namespace ShopDiag.Diagnosis.Decisions;

/// <summary>
/// In which order to look and repair when one of several causes is there and each action speaks of one of them alone: decreasing p/C, which gives the least
/// expected cost of repair (Kadane and Simon 1977; Ottosen and Jensen 2010). With strip-downs shared by several actions the rule no longer holds; then use
/// <see cref="SharedStripDown"/>.
/// </summary>
public static class RepairOrder
{
    /// <summary>The actions in decreasing p/C; ties stay in the order given.</summary>
    public static ImmutableArray<RepairAction> ByRatio(IEnumerable<RepairAction> actions)
    {
        ArgumentNullException.ThrowIfNull(actions);
        return [.. actions.OrderByDescending(a => a.Ratio)];
    }

    /// <summary>
    /// Expected cost of repair of an order: the sum of (1 - sum over j before i of p_j) C_i + p_i R_i, with C the cost of looking and R the cost of repair
    /// (Heckerman, Breese and Rommelse, CACM 38(3) 1995; without R the form of Kadane and Simon). Each strip-down is counted where it is first needed.
    /// Throws <see cref="ArgumentException"/> where the probabilities add up to more than 1.
    /// </summary>
    /// <param name="order">The actions in the order they are done; one that ends the trouble ends the sequence.</param>
    /// <param name="costIfNoneHelps">What it costs when all are done and the trouble is still there (a sublet, a tow).</param>
    public static double ExpectedCost(IEnumerable<RepairAction> order, double costIfNoneHelps = 0)
    {
        ArgumentNullException.ThrowIfNull(order);
        var actions = order.ToArray();
        DecisionChecks.AtMostOne(actions.Select(a => a.Probability), nameof(order));
        var (cost, left) = (0.0, 1.0);
        var off = new HashSet<string>(StringComparer.Ordinal);
        foreach (var action in actions)
        {
            cost += (left * (action.Cost + action.Behind.Where(s => off.Add(s.Id)).Sum(s => s.Cost))) + (action.Probability * action.RepairCost);
            left = Math.Max(0, left - action.Probability);
        }

        return cost + (left * DecisionChecks.Cost(costIfNoneHelps, nameof(costIfNoneHelps)));
    }

    /// <summary>Expected cost of repair of the best order of actions that share no strip-down.</summary>
    public static double LeastExpectedCost(IEnumerable<RepairAction> actions, double costIfNoneHelps = 0) => ExpectedCost(ByRatio(actions), costIfNoneHelps);

    /// <summary>
    /// With two causes of which one is there, true when the first is to be looked at first: C1 (1 - p) is at most C2 p (S. Ross, A First Course in Probability).
    /// The costs of repair cancel.
    /// </summary>
    /// <param name="probability">Probability that it is the first.</param>
    /// <param name="firstCost">Cost of looking at the first.</param>
    /// <param name="secondCost">Cost of looking at the second.</param>
    public static bool FirstOfTwo(double probability, double firstCost, double secondCost) =>
        DecisionChecks.Cost(firstCost, nameof(firstCost)) * (1 - DecisionChecks.Probability(probability, nameof(probability)))
        <= DecisionChecks.Cost(secondCost, nameof(secondCost)) * probability;
}
