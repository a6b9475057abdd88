namespace ShopDiag.VirtualCars.SmallWorlds;

/// <summary>What has been read in a small world, and how much of the prior each fault keeps by it.</summary>
internal sealed class WorldState
{
    private const int Unread = -1;
    private readonly int[] _outcomes;
    private readonly long[] _radix;

    private WorldState(int[] outcomes, long[] radix, double[] weights)
    {
        (_outcomes, _radix, Weights) = (outcomes, radix, weights);
        Total = weights.Sum();
        Code = outcomes.Select((o, s) => (o + 1) * radix[s]).Sum();
    }

    /// <summary>Prior of each fault times the probability of everything read.</summary>
    public double[] Weights { get; }

    /// <summary>Their sum.</summary>
    public double Total { get; }

    /// <summary>A number that no other state of the world has; the order of reading does not enter.</summary>
    public long Code { get; }

    /// <summary>Index of the outcome of a step that has been read.</summary>
    public int this[int step] => _outcomes[step];

    /// <summary>True when a step has been read.</summary>
    public bool IsRead(int step) => _outcomes[step] != Unread;

    /// <summary>The state in which no step has been read.</summary>
    public static WorldState Open(IEnumerable<int> outcomeCounts, double[] weights)
    {
        var counts = outcomeCounts.ToArray();
        var radix = new long[counts.Length];
        for (var (s, next) = (0, 1L); s < counts.Length; s++)
        {
            radix[s] = next;
            next *= counts[s] + 1;
        }

        return new WorldState([.. counts.Select(_ => Unread)], radix, weights);
    }

    /// <summary>The state after one more reading.</summary>
    public WorldState With(int step, int outcome, double[] weights)
    {
        var outcomes = (int[])_outcomes.Clone();
        outcomes[step] = outcome;
        return new WorldState(outcomes, _radix, weights);
    }
}
