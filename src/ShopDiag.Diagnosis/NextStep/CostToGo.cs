using System.Collections.Immutable;
using ShopDiag.Diagnosis.Evidence;

namespace ShopDiag.Diagnosis.NextStep;

/// <summary>
/// Estimates the bench minutes from some state of knowledge to a proven cause: for each likely cause the minutes of its cheapest proof with what is open, and for what is
/// still uncertain the minutes it usually takes to tell causes apart.
/// </summary>
/// <remarks>It is an estimate, not a plan; the look-ahead plays it through test by test.</remarks>
internal sealed class CostToGo(BenchTime time, IReadOnlyList<ProofPlan> plans, IReadOnlyList<FaultSet> sets)
{
    /// <summary>Minutes counted for a cause that no test at hand can prove. Common practice: what it takes to go on by exclusion.</summary>
    public const double Unproven = 60;

    /// <summary>Bench minutes that one bit of certainty usually costs. Common practice: a test of five minutes that halves what is left.</summary>
    public const double MinutesOfABit = 10;

    /// <summary>Minutes counted where a proof is there but the rest of the readings speaks against it: something must be taken again.</summary>
    private const double InDoubt = 8;

    /// <summary>Causes below this probability are left to the rest.</summary>
    private const double LeastProbability = 0.01;

    private readonly int[][] _members =
        [.. plans.Select(p => Enumerable.Range(0, sets.Count).Where(s => sets[s].One == p.Hypothesis || sets[s].Other == p.Hypothesis).ToArray())];

    /// <summary>Expected minutes; 0 once a cause would be proven.</summary>
    public double Of(Prospect state)
    {
        var (minutes, left) = (0.0, 1.0);
        for (var i = 0; i < plans.Count; i++)
        {
            var probability = Probability(i, state.Weights);
            if (probability < LeastProbability)
            {
                continue;
            }

            var attempt = Cheapest(plans[i], state);
            if (attempt.IsComplete && probability >= Proofs.LeastProbability)
            {
                return 0;
            }

            probability = Math.Min(left, probability);
            minutes += probability * attempt.Minutes;
            left -= probability;
        }

        return minutes + (left * Unproven) + (MinutesOfABit * Entropy(state.Weights));
    }

    /// <summary>Expected minutes of the cheapest proof of a hypothesis.</summary>
    public double ToProve(int hypothesis, Prospect state) => plans.FirstOrDefault(p => p.Hypothesis == hypothesis) is { } plan ? Cheapest(plan, state).Minutes : Unproven;

    private double Probability(int plan, double[] weights)
    {
        var probability = 0.0;
        foreach (var set in _members[plan])
        {
            probability += weights[set];
        }

        return probability;
    }

    /// <summary>Uncertainty about which faults are present, in bits.</summary>
    public static double Entropy(double[] weights)
    {
        var bits = 0.0;
        foreach (var weight in weights)
        {
            bits -= weight > 0 ? weight * Math.Log2(weight) : 0;
        }

        return bits;
    }

    private Attempt Cheapest(ProofPlan plan, Prospect state)
    {
        var best = new Attempt(Unproven, false);
        foreach (var way in plan.Ways)
        {
            if (Try(way, state) is { } attempt && attempt.Minutes < best.Minutes)
            {
                best = attempt;
            }
        }

        return best;
    }

    // Minutes to the proof when the cause is there; null when a supposed outcome speaks against this way.
    private Attempt? Try(ImmutableArray<Wanted> way, Prospect state)
    {
        var (minutes, chance, opened, done, missing) = (0.0, 1.0, state.Opened, default(BenchWork), 0);
        foreach (var wanted in way)
        {
            if (state.OutcomeOf(wanted.Spot) is { } outcome)
            {
                if (!wanted.Allowed[outcome])
                {
                    return null;
                }

                continue;
            }

            // One round brings all that it is read for.
            if (wanted.Work != done)
            {
                minutes += time.Minutes(opened, wanted.Work) + wanted.Test.RiskMinutes;
                opened = BenchTime.After(opened, wanted.Work);
                done = wanted.Work;
            }

            chance *= wanted.Chance;
            missing++;
        }

        return missing == 0 ? new Attempt(InDoubt, true) : new Attempt(minutes + ((1 - chance) * Unproven), false);
    }

    /// <summary>An attempt to prove one cause.</summary>
    /// <param name="Minutes">Expected minutes when it is the cause.</param>
    /// <param name="IsComplete">True when nothing is missing.</param>
    private readonly record struct Attempt(double Minutes, bool IsComplete);
}
