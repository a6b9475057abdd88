using System.Numerics;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.Evidence;

/// <summary>Takes what a group of readings does to a cause apart, reading by reading, so that the parts add up to the whole.</summary>
/// <remarks>
/// The share of a reading is its gain averaged over all orders in which the readings of the group could have come (Shapley 1953): symmetric, and two readings
/// that say the same share what they say together. Of a cause that sleeps, each reading's effect is a mean of that on the cause awake and that on it asleep, with one weight for all
/// readings: the one that makes the sum come out (the gain along the straight way from nothing to all that was read, Aumann and Shapley 1974).
/// </remarks>
internal static class Breakdown
{
    /// <summary>The effect of each finding of a group.</summary>
    /// <param name="group">What was read.</param>
    /// <param name="weighing">What it says.</param>
    /// <param name="speaker">What the cause makes the group show.</param>
    /// <param name="awake">How far the effect is that on the cause awake, 0 to 1; the rest is that on the cause asleep.</param>
    public static IEnumerable<Effect> Of(SeenGroup group, Weighing weighing, Speaker speaker, double awake)
    {
        var (shares, asleep) = (weighing.Shares(speaker), weighing.Shares(speaker.Less));
        for (var i = 0; i < shares.Length; i++)
        {
            // A reading that the cause says nothing of has a share only where it changes what its companions say.
            var (rule, share) = (speaker.Rules[i], (awake * shares[i]) + ((1 - awake) * asleep[i]));
            if (group.Findings[i] is { } finding && (rule is not null || Math.Abs(share) > 1e-9))
            {
                var because = rule is null ? "It bears on what the other readings of its kind say here." : share >= 0 ? rule.Because : rule.Against;
                yield return new Effect(finding.Test, finding.Aspect, finding.At, finding.Outcome ?? finding.Trials[0], share, because);
            }
        }
    }

    /// <summary>The share of each member of a group in what it says for a speaker, in bits; 0 for a member that was not read.</summary>
    public static double[] Shares(SeenGroup group, Speaker speaker)
    {
        var members = Enumerable.Range(0, group.Findings.Length).Where(i => group.Findings[i] is not null).ToArray();
        var (worth, shares) = (Worth(group, speaker, members), new double[group.Findings.Length]);
        for (var i = 0; i < members.Length; i++)
        {
            shares[members[i]] = Share(worth, i, members.Length);
        }

        return shares;
    }

    // For every subset of the members (as bits of the index), what it says for the cause against a sound engine.
    private static double[] Worth(SeenGroup group, Speaker speaker, int[] members)
    {
        var worth = new double[1 << members.Length];
        for (var subset = 1u; subset < worth.Length; subset++)
        {
            var mask = 0u;
            for (var i = 0; i < members.Length; i++)
            {
                mask |= (subset & (1u << i)) != 0 ? 1u << members[i] : 0;
            }

            worth[subset] = Math.Log2(group.Joint(speaker, mask) / group.Joint(null, mask));
        }

        return worth;
    }

    private static double Share(double[] worth, int member, int members)
    {
        var (bit, share) = (1u << member, 0.0);
        for (var subset = 0u; subset < worth.Length; subset++)
        {
            if ((subset & bit) == 0)
            {
                var before = BitOperations.PopCount(subset);
                share += (worth[subset | bit] - worth[subset]) / (members * Choose(members - 1, before));
            }
        }

        return share;
    }

    private static double Choose(int n, int k)
    {
        var ways = 1.0;
        for (var i = 1; i <= k; i++)
        {
            ways = ways * (n - k + i) / i;
        }

        return ways;
    }
}
