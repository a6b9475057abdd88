namespace ShopDiag.Signals.Waveforms;

/// <summary>The lowest and the highest sample of a stretch; both NaN where there is none.</summary>
public readonly record struct MinMax(float Min, float Max)
{
    /// <summary>A stretch without samples.</summary>
    public static MinMax None { get; } = new(float.NaN, float.NaN);

    /// <summary>True where a sample is there.</summary>
    public bool HasValue => !float.IsNaN(Min);
}

/// <summary>
/// Draws a long channel in few columns without losing a peak: each column holds the lowest and highest of its samples. A pyramid of stretches that is made once keeps a question over ten million samples
/// as cheap as one over some thousands.
/// </summary>
public sealed class MinMaxTrace
{
    private const int Fan = 32;
    private readonly float[] _samples;

    /// <summary>Level 0 over stretches of <see cref="Fan"/> samples, each further level over that many of the one below.</summary>
    private readonly List<MinMax[]> _levels = [];

    /// <summary>Builds the pyramid; it holds on to the samples, which must not change.</summary>
    public MinMaxTrace(float[] samples)
    {
        ArgumentNullException.ThrowIfNull(samples);
        _samples = samples;
        if (samples.Length < Fan)
        {
            return;
        }

        var level = new MinMax[samples.Length / Fan];
        for (var i = 0; i < level.Length; i++)
        {
            level[i] = Of(samples.AsSpan(i * Fan, Fan));
        }

        _levels.Add(level);
        while (level.Length >= Fan)
        {
            var above = new MinMax[level.Length / Fan];
            for (var i = 0; i < above.Length; i++)
            {
                above[i] = Of(level.AsSpan(i * Fan, Fan));
            }

            _levels.Add(above);
            level = above;
        }
    }

    /// <summary>Samples of the channel.</summary>
    public int Length => _samples.Length;

    /// <summary>
    /// The samples from <paramref name="from"/> (included) to <paramref name="to"/> (not included) in so many columns; in as many as there are samples when those are fewer. The range is cut to the channel.
    /// </summary>
    public MinMax[] Columns(int from, int to, int columns)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(columns, 1);
        from = Math.Clamp(from, 0, Length);
        to = Math.Clamp(to, from, Length);
        var answer = new MinMax[Math.Min(columns, to - from)];
        for (var c = 0; c < answer.Length; c++)
        {
            answer[c] = Over(Edge(c), Edge(c + 1));
        }

        return answer;

        int Edge(int column) => from + (int)((long)(to - from) * column / answer.Length);
    }

    /// <summary>Lowest and highest from <paramref name="from"/> (included) to <paramref name="to"/> (not included), both within the channel.</summary>
    public MinMax Over(int from, int to) => Over(from, to, -1);

    /// <summary>On a level, -1 for the samples: the ends here, all that lies between on the level above.</summary>
    private MinMax Over(int from, int to, int level)
    {
        var (first, last) = ((from + Fan - 1) / Fan, to / Fan);
        if (level + 1 == _levels.Count || first >= last)
        {
            return Part(level, from, to);
        }

        return Joined(Joined(Part(level, from, first * Fan), Over(first, last, level + 1)), Part(level, last * Fan, to));
    }

    private MinMax Part(int level, int from, int to) => level < 0 ? Of(_samples.AsSpan(from, to - from)) : Of(_levels[level].AsSpan(from, to - from));

    private static MinMax Of(ReadOnlySpan<float> samples)
    {
        var (min, max) = (float.PositiveInfinity, float.NegativeInfinity);
        foreach (var sample in samples)
        {
            // Comparisons with NaN are false: a gap changes neither.
            min = sample < min ? sample : min;
            max = sample > max ? sample : max;
        }

        return min <= max ? new(min, max) : MinMax.None;
    }

    private static MinMax Of(ReadOnlySpan<MinMax> stretches)
    {
        var joined = MinMax.None;
        foreach (var stretch in stretches)
        {
            joined = Joined(joined, stretch);
        }

        return joined;
    }

    private static MinMax Joined(MinMax a, MinMax b) => !a.HasValue ? b : !b.HasValue ? a : new(Math.Min(a.Min, b.Min), Math.Max(a.Max, b.Max));
}
