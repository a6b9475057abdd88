using ShopDiag.Diagnosis.Evidence;

namespace ShopDiag.Diagnosis.NextStep;

/// <summary>How a reading yet to be taken would come out under each fault set, given what was read so far.</summary>
/// <param name="Aspect">The aspect's id.</param>
/// <param name="At">The place.</param>
/// <param name="Sound">Probability of each outcome where no fault speaks.</param>
/// <param name="Shown">For each fault set the same; the very array <paramref name="Sound"/> where none of its faults speaks.</param>
internal sealed record Channel(string Aspect, Place At, double[] Sound, double[][] Shown)
{
    /// <summary>True when some fault set makes it come out otherwise than a sound engine.</summary>
    public bool Tells => Array.Exists(Shown, s => !ReferenceEquals(s, Sound));

    /// <summary>Works it out for all fault sets of a belief.</summary>
    /// <param name="belief">The belief.</param>
    /// <param name="sets">The fault sets.</param>
    /// <param name="aspect">The aspect that would be read.</param>
    /// <param name="at">Where.</param>
    /// <param name="supposed">Outcomes supposed to have been read before; those of the same group and place bear on this one.</param>
    public static Channel Of(Belief belief, FaultSet[] sets, string aspect, Place at, IEnumerable<Supposed> supposed)
    {
        var (seen, member) = belief.SeenAt(aspect, at);
        foreach (var other in supposed.Where(s => s.At == at))
        {
            var (group, its) = belief.SeenAt(other.Aspect, at);
            seen = group.Index == seen.Index ? seen.WithOutcome(its, other.Outcome) : seen;
        }

        var sound = Outcomes(seen, member, null, null);
        var made = new Dictionary<(Speaker?, Speaker?), double[]> { [(null, null)] = sound };
        return new Channel(aspect, at, sound, [.. sets.Select(s => ShownBy(s))]);

        double[] ShownBy(FaultSet set)
        {
            var key = (belief.SpeakerOf(set.One, seen.Index, at), set.Other is { } other ? belief.SpeakerOf(other, seen.Index, at) : null);
            return made.TryGetValue(key, out var shown) ? shown : made[key] = Outcomes(seen, member, key.Item1, key.Item2);
        }
    }

    // P(outcome | faults, seen) = P(outcome and seen | faults) / P(seen | faults).
    private static double[] Outcomes(SeenGroup seen, int member, Speaker? one, Speaker? other)
    {
        var before = seen.Joint(one, other);
        var outcomes = new double[seen.Model.Members[member].Aspect.Outcomes.Length];
        for (var o = 0; o < outcomes.Length; o++)
        {
            outcomes[o] = seen.WithOutcome(member, o).Joint(one, other) / before;
        }

        return outcomes;
    }
}

/// <summary>An outcome that is supposed to have been read.</summary>
/// <param name="Aspect">The aspect's id.</param>
/// <param name="At">The place.</param>
/// <param name="Outcome">Its number within the aspect.</param>
internal readonly record struct Supposed(string Aspect, Place At, int Outcome);
