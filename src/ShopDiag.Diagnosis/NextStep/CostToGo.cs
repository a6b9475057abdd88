using System.Collections.Immutable;
using ShopDiag.Diagnosis.Evidence;

namespace ShopDiag.Diagnosis.NextStep;

/// <summary>
/// Estimates the bench minutes from some state of knowledge to a proven cause: the likely causes are proven one after the other, the best ratio of probability to
/// the cost of finding that it is not so first (Heckerman, Breese and Rommelse 1995: order by p/C), tests and strip-down shared.
/// </summary>
/// <remarks>
/// It is what a plain plan would take, so an upper estimate; looking ahead with it, test by test, gives plans that are better than plain.
/// </remarks>
internal sealed class CostToGo(BenchTime time, IReadOnlyList<ProofPlan> plans, IReadOnlyList<FaultSet> sets)
{
    /// <summary>Minutes counted for a cause that no test at hand can prove. Common practice: what it takes to go on by exclusion.</summary>
    public const double Unproven = 60;

    /// <summary>Minutes counted where a proof is there but the rest of the readings speaks against it: something must be taken again.</summary>
    private const double InDoubt = 8;

    /// <summary>Causes below this probability are left to the rest.</summary>
    private const double LeastProbability = 0.01;

    private const int MostPlans = 7;

    private readonly int[][] _members =
        [.. plans.Select(p => Enumerable.Range(0, sets.Count).Where(s => sets[s].One == p.Hypothesis || sets[s].Other == p.Hypothesis).ToArray())];

    /// <summary>Expected minutes; 0 once a cause would be proven.</summary>
    public double Of(Prospect state)
    {
        var likely = new List<(int Plan, double Probability, Attempt Attempt)>(MostPlans);
        for (var i = 0; i < plans.Count; i++)
        {
            var probability = Probability(i, state.Weights);
            if (probability < LeastProbability)
            {
                continue;
            }

            var attempt = Cheapest(plans[i], state, []);
            if (attempt is { IsComplete: true } && probability >= Proofs.LeastProbability)
            {
                return 0;
            }

            likely.Add((i, probability, attempt));
        }

        likely.Sort((a, b) => Ratio(b.Probability, b.Attempt).CompareTo(Ratio(a.Probability, a.Attempt)));
        return InTurn(state, likely);
    }

    private double InTurn(Prospect state, List<(int Plan, double Probability, Attempt Attempt)> likely)
    {
        var (left, minutes, taken) = (1.0, 0.0, new List<(string, Place)>());
        for (var k = 0; k < likely.Count && k < MostPlans; k++)
        {
            var attempt = k == 0 ? likely[k].Attempt : Cheapest(plans[likely[k].Plan], state, taken);
            var probability = Math.Min(left, likely[k].Probability);
            minutes += (probability * attempt.IfSo) + ((left - probability) * attempt.IfNot);
            left -= probability;
            if (left < 1e-3)
            {
                break;
            }

            state = state with { Opened = attempt.Opened };
            taken.AddRange(attempt.Way.Select(w => (w.Aspect, w.At)));
        }

        return minutes + (left * Unproven);
    }

    private double Probability(int plan, double[] weights)
    {
        var probability = 0.0;
        foreach (var set in _members[plan])
        {
            probability += weights[set];
        }

        return probability;
    }

    private static double Ratio(double probability, Attempt attempt) => probability / Math.Max(0.1, attempt.IfNot);

    private Attempt Cheapest(ProofPlan plan, Prospect state, List<(string Aspect, Place At)> taken)
    {
        var best = new Attempt(Unproven, Unproven / 4, [], state.Opened, false);
        foreach (var way in plan.Ways)
        {
            if (Missing(way, state, taken) is { } missing && Try(missing, state.Opened) is var attempt && attempt.IfSo < best.IfSo)
            {
                best = attempt;
            }
        }

        return best;
    }

    // What a way still lacks, or null when a supposed outcome speaks against it.
    private static List<Wanted>? Missing(ImmutableArray<Wanted> way, Prospect state, List<(string Aspect, Place At)> taken)
    {
        var missing = new List<Wanted>(way.Length);
        foreach (var wanted in way)
        {
            if (state.OutcomeOf(wanted.Aspect, wanted.At) is { } outcome)
            {
                if (!wanted.Allowed[outcome])
                {
                    return null;
                }
            }
            else if (!taken.Contains((wanted.Aspect, wanted.At)))
            {
                missing.Add(wanted);
            }
        }

        return missing;
    }

    // The readings are taken in the order that finds out soonest that the cause is not there.
    private Attempt Try(List<Wanted> missing, Opened opened)
    {
        if (missing.Count == 0)
        {
            return new Attempt(InDoubt, InDoubt, [], opened, true);
        }

        var way = missing.Count == 1 ? missing
            : [.. missing.OrderBy(w => time.Minutes(opened, w.Test, w.Places) / Math.Max(0.02, 1 - w.ByChance))];
        var (ifSo, ifNot, chance, passes) = (0.0, 0.0, 1.0, 1.0);
        for (var i = 0; i < way.Count; i++)
        {
            var wanted = way[i];

            // One round brings all that it is read for.
            if (!way.Take(i).Any(w => w.Test == wanted.Test && w.Places.Contains(wanted.Places[0])))
            {
                var minutes = time.Minutes(opened, wanted.Test, wanted.Places) + wanted.Test.RiskMinutes;
                ifSo += minutes;
                ifNot += passes * minutes;
                opened = time.After(opened, wanted.Test, wanted.Places);
            }

            chance *= wanted.Chance;
            passes *= wanted.ByChance;
        }

        return new Attempt(ifSo + ((1 - chance) * Unproven), ifNot, way, opened, false);
    }

    /// <summary>An attempt to prove one cause.</summary>
    /// <param name="IfSo">Expected minutes when it is the cause.</param>
    /// <param name="IfNot">Expected minutes until that is seen when it is not.</param>
    /// <param name="Way">The readings.</param>
    /// <param name="Opened">How the engine stands afterwards.</param>
    /// <param name="IsComplete">True when nothing is missing.</param>
    private sealed record Attempt(double IfSo, double IfNot, IReadOnlyList<Wanted> Way, Opened Opened, bool IsComplete);
}
