using System.Collections.Immutable;

namespace ShopDiag.Diagnosis.NextStep;

/// <summary>One way in which a test may come out.</summary>
/// <param name="Probability">How likely.</param>
/// <param name="Then">How things would stand.</param>
internal readonly record struct Branch(double Probability, Prospect Then);

/// <summary>The ways in which a test may come out.</summary>
internal static class Branches
{
    /// <summary>Patterns of a round beyond this many are lumped into the last: they are rare.</summary>
    private const int MostPatterns = 14;

    /// <summary>The branches of a test that is read on the channels; their probabilities add up to 1.</summary>
    public static IReadOnlyList<Branch> Of(Prospect now, IReadOnlyList<Channel> channels, Opened opened) => channels.Count == 1
        ? ByOutcome(now, channels[0], opened)
        : ByPattern(now, channels, opened);

    private static List<Branch> ByOutcome(Prospect now, Channel channel, Opened opened)
    {
        var branches = new List<Branch>(channel.Sound.Length);
        for (var o = 0; o < channel.Sound.Length; o++)
        {
            var (weights, total) = (new double[now.Weights.Length], 0.0);
            for (var s = 0; s < weights.Length; s++)
            {
                total += weights[s] = now.Weights[s] * channel.Shown[s][o];
            }

            branches.Add(new Branch(total, After(now, weights, total, [new Supposed(channel.Spot, o)], opened)));
        }

        return branches;
    }

    // A round at many places has more outcomes than can be counted out. Each fault set has one pattern that it shows most; the sets that share a pattern make
    // one branch, in which the belief is worked out as if that pattern had been read.
    private static List<Branch> ByPattern(Prospect now, IReadOnlyList<Channel> channels, Opened opened)
    {
        var patterns = new Dictionary<string, (double Weight, int Set)>(StringComparer.Ordinal);
        var pattern = new char[channels.Count];
        for (var s = 0; s < now.Weights.Length; s++)
        {
            for (var c = 0; c < pattern.Length; c++)
            {
                pattern[c] = (char)('a' + Likeliest(channels[c].Shown[s]));
            }

            var key = new string(pattern);
            var (weight, set) = patterns.GetValueOrDefault(key, (0, s));
            patterns[key] = (weight + now.Weights[s], set);
        }

        var kept = patterns.OrderByDescending(p => p.Value.Weight).ThenBy(p => p.Key, StringComparer.Ordinal).Take(MostPatterns).ToArray();
        var total = kept.Sum(p => p.Value.Weight);
        return [.. kept.Select(p => new Branch(p.Value.Weight / total, Read(now, channels, p.Key, opened)))];
    }

    private static Prospect Read(Prospect now, IReadOnlyList<Channel> channels, string pattern, Opened opened)
    {
        var (weights, total) = ((double[])now.Weights.Clone(), 0.0);
        for (var s = 0; s < weights.Length; s++)
        {
            for (var c = 0; c < channels.Count; c++)
            {
                weights[s] *= channels[c].Shown[s][pattern[c] - 'a'];
            }

            total += weights[s];
        }

        return After(now, weights, total, [.. channels.Select((c, i) => new Supposed(c.Spot, pattern[i] - 'a'))], opened);
    }

    private static Prospect After(Prospect now, double[] weights, double total, ImmutableArray<Supposed> read, Opened opened)
    {
        for (var s = 0; s < weights.Length; s++)
        {
            weights[s] = total > 0 ? weights[s] / total : now.Weights[s];
        }

        return new Prospect(weights, now.Supposed.AddRange(read), opened);
    }

    private static int Likeliest(double[] shown)
    {
        var likeliest = 0;
        for (var o = 1; o < shown.Length; o++)
        {
            likeliest = shown[o] > shown[likeliest] ? o : likeliest;
        }

        return likeliest;
    }
}
