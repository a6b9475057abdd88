using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.Evidence;

/// <summary>
/// What good readings after a repair say of what the trouble was. What the repair mends reads as on a sound engine from then on; what it does not mend would most likely still show itself as it did before.
/// </summary>
/// <remarks>
/// For a cause that was not mended: P(after | before, the cause) / P(after | sound engine), over all that was read after the repair, awake and asleep, never below <see cref="StaysAway"/>; 1 for one that was.
/// Of two faults at once each speaks for itself.
/// </remarks>
internal sealed class RepairEvidence
{
    /// <summary>
    /// Chance that trouble which was not mended stays away on the look after a repair all the same: connectors were seated anew, the engine is cooler, the run was short. Common practice; no published figure.
    /// </summary>
    public const double StaysAway = 0.05;

    private readonly double[] _awake;
    private readonly double[] _asleep;

    // For each hypothesis the finding after the repair that speaks most against it, and how far.
    private readonly (double Ratio, Finding? Finding)[] _most;

    /// <summary>Weighs the readings.</summary>
    /// <param name="belief">What was read before, and who speaks of it.</param>
    /// <param name="after">The findings after the repair; none where nothing was repaired.</param>
    /// <param name="isMended">True for a hypothesis that the repair mends.</param>
    public RepairEvidence(Belief belief, IEnumerable<Finding> after, Func<Hypothesis, bool> isMended)
    {
        var told = after.Where(f => f.Outcome is not null).ToArray();
        bool[] mended = [.. belief.Hypotheses.Select(isMended)];
        (_awake, _asleep, _most) = ([.. mended.Select(_ => 1.0)], [.. mended.Select(_ => 1.0)], [.. mended.Select(_ => (double.MaxValue, (Finding?)null))]);
        foreach (var group in told.GroupBy(f => (belief.SeenAt(f.Aspect, f.At).Seen.Index, f.At)))
        {
            Count(belief, [.. group], mended);
        }

        for (var h = 0; h < mended.Length; h++)
        {
            (_awake[h], _asleep[h]) = (Bits(_awake[h]), Bits(_asleep[h]));
        }

        double Bits(double ratio) => told.Length == 0 ? 0 : Math.Log2(StaysAway + ((1 - StaysAway) * ratio));
    }

    /// <summary>Adds what it says for each hypothesis, in bits, awake and asleep.</summary>
    public void AddTo(double[] awake, double[] asleep)
    {
        for (var h = 0; h < awake.Length; h++)
        {
            awake[h] += _awake[h];
            asleep[h] += _asleep[h];
        }
    }

    /// <summary>What it does to a hypothesis, as one effect that names the finding which says most; none for what the repair mends.</summary>
    /// <param name="hypothesis">Its number.</param>
    /// <param name="awake">How far it counts as awake, 0 to 1.</param>
    public IEnumerable<Effect> Effects(int hypothesis, double awake)
    {
        var bits = (awake * _awake[hypothesis]) + ((1 - awake) * _asleep[hypothesis]);
        return _most[hypothesis].Finding is not { } most || Math.Abs(bits) < 1e-9 ? [] :
        [
            new Effect(most.Test, most.Aspect, most.At, most.Outcome!, bits, "The trouble is gone since the repair, which does not mend this.") { Stage = Stage.After },
        ];
    }

    private void Count(Belief belief, Finding[] after, bool[] mended)
    {
        var before = belief.SeenAt(after[0].Aspect, after[0].At).Seen;
        var both = after.Aggregate(before, With);
        var sound = after.Aggregate(new SeenGroup(before.Model, before.Index, before.At), With).Joint(null, (Speaker?)null);
        var speakers = belief.SpeakersOf(before.Index, before.At);
        for (var h = 0; h < mended.Length; h++)
        {
            if (speakers[h] is { } speaker && !mended[h])
            {
                var ratio = Likely(both, speaker) / Likely(before, speaker) / sound;
                _awake[h] *= ratio;
                _most[h] = ratio < _most[h].Ratio ? (ratio, after[0]) : _most[h];
                _asleep[h] *= Likely(both, Asleep(speaker)) / Likely(before, Asleep(speaker)) / sound;
            }
        }

        SeenGroup With(SeenGroup seen, Finding finding) => seen.With(belief.SeenAt(finding.Aspect, finding.At).Member, finding);
    }

    private static Speaker Asleep(Speaker speaker) => speaker.Sleeps ? speaker.Less : speaker;

    // What all cylinders share is strong or slight: the mean of both.
    private static double Likely(SeenGroup seen, Speaker speaker) => speaker.Varies
        ? ((1 - speaker.Slight) * seen.Joint(speaker, (Speaker?)null)) + (speaker.Slight * seen.Joint(speaker.Less, (Speaker?)null))
        : seen.Joint(speaker, (Speaker?)null);
}
