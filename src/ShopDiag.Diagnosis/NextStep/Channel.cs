using ShopDiag.Diagnosis.Evidence;

namespace ShopDiag.Diagnosis.NextStep;

/// <summary>How a reading yet to be taken would come out under each fault set, given what was read so far.</summary>
/// <param name="Spot">The aspect and the place.</param>
/// <param name="Sound">Probability of each outcome where no fault speaks.</param>
/// <param name="Shown">For each fault set the same; the very array <paramref name="Sound"/> where none of its faults speaks.</param>
internal sealed record Channel(Spot Spot, double[] Sound, double[][] Shown)
{
    /// <summary>True when some fault set makes it come out otherwise than a sound engine.</summary>
    public bool Tells => Array.Exists(Shown, s => !ReferenceEquals(s, Sound));

    /// <summary>Works it out for all fault sets of a belief.</summary>
    /// <param name="belief">The belief.</param>
    /// <param name="sets">The fault sets.</param>
    /// <param name="spot">The aspect that would be read, and where.</param>
    /// <param name="supposed">Outcomes supposed to have been read before; those of the same group and place bear on this one.</param>
    public static Channel Of(Belief belief, FaultSet[] sets, Spot spot, IReadOnlyList<Supposed> supposed)
    {
        var (read, member) = belief.SeenAt(spot.Aspect, spot.At);
        var seen = read.Afresh(member);
        foreach (var other in supposed.Where(s => s.Spot.Kin == spot.Kin))
        {
            seen = seen.WithOutcome(belief.SeenAt(other.Spot.Aspect, spot.At).Member, other.Outcome);
        }

        var speakers = belief.SpeakersOf(seen.Index, spot.At);
        var sound = Outcomes(seen, member, null, null);
        var made = new Dictionary<(Speaker?, Speaker?), double[]>();
        return new Channel(spot, sound, [.. sets.Select(ShownBy)]);

        double[] ShownBy(FaultSet set)
        {
            var (one, other) = (speakers[set.One], set.Other is { } second ? speakers[second] : null);
            if (one is null && other is null)
            {
                return sound;
            }

            return HasStates(one) || HasStates(other) ? Mixed(StatesOf(set, one, other), one, other) : Made(one, other);
        }

        // Who of the two is awake goes for all groups; whether it is strong on all its cylinders goes for this one.
        Waking StatesOf(FaultSet set, Speaker? one, Speaker? other)
        {
            if (one is not { Varies: true } && other is not { Varies: true })
            {
                return set.Awake;
            }

            var first = one is { Varies: true } ? belief.ShowsMore(set.One, seen.Index, one) : set.Awake.Both + set.Awake.First;
            var second = other is { Varies: true } ? belief.ShowsMore(set.Other!.Value, seen.Index, other) : set.Awake.Both + set.Awake.Second;
            return new Waking(first * second, first * (1 - second), (1 - first) * second);
        }

        // The outcomes as they are with the states of both known, by how likely each is.
        double[] Mixed(Waking awake, Speaker? one, Speaker? other)
        {
            var (both, first, second, none) = (Made(one, other), Made(one, other?.Less), Made(one?.Less, other), Made(one?.Less, other?.Less));
            var (mixed, asleep) = (new double[both.Length], 1 - awake.Both - awake.First - awake.Second);
            for (var o = 0; o < mixed.Length; o++)
            {
                mixed[o] = (awake.Both * both[o]) + (awake.First * first[o]) + (awake.Second * second[o]) + (asleep * none[o]);
            }

            return mixed;
        }

        static bool HasStates(Speaker? speaker) => speaker is { Sleeps: true } or { Varies: true };

        double[] Made(Speaker? one, Speaker? other) =>
            made.TryGetValue((one, other), out var shown) ? shown : made[(one, other)] = Outcomes(seen, member, one, other);
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

/// <summary>An aspect at a place, made once for each so that spots are compared by reference.</summary>
/// <param name="aspect">The aspect's id.</param>
/// <param name="at">The place.</param>
/// <param name="kin">A number that all aspects of one group share at one place.</param>
internal sealed class Spot(string aspect, Place at, int kin)
{
    /// <summary>The aspect's id.</summary>
    public string Aspect => aspect;

    /// <summary>The place.</summary>
    public Place At => at;

    /// <summary>A number that all aspects of one group share at one place.</summary>
    public int Kin => kin;
}

/// <summary>The spots of one look-ahead.</summary>
internal sealed class Spots(Belief belief)
{
    private readonly Dictionary<(string, Place), Spot> _spots = [];
    private readonly Dictionary<(int, Place), int> _kin = [];

    /// <summary>The spot of an aspect at a place.</summary>
    public Spot Of(string aspect, Place at)
    {
        if (_spots.TryGetValue((aspect, at), out var spot))
        {
            return spot;
        }

        var group = belief.SeenAt(aspect, at).Seen.Index;
        if (!_kin.TryGetValue((group, at), out var kin))
        {
            _kin[(group, at)] = kin = _kin.Count;
        }

        return _spots[(aspect, at)] = new Spot(aspect, at, kin);
    }
}

/// <summary>An outcome that is supposed to have been read.</summary>
/// <param name="Spot">The aspect and the place.</param>
/// <param name="Outcome">Its number within the aspect.</param>
internal readonly record struct Supposed(Spot Spot, int Outcome);
