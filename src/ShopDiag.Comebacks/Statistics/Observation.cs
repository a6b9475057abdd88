namespace ShopDiag.Comebacks.Statistics;

/// <summary>How long something was watched, and whether what was waited for happened at the end of it or the watching merely stopped (censored).</summary>
/// <param name="Time">Whole days, kilometres or weeks from the start, from 0.</param>
/// <param name="Happened">True when it happened then; false when it had not happened yet when last looked at.</param>
public readonly record struct Observation(int Time, bool Happened)
{
    /// <summary>In order of time, as an array. Throws <see cref="ArgumentOutOfRangeException"/> for a time below 0.</summary>
    internal static Observation[] Sorted(IEnumerable<Observation> observations)
    {
        ArgumentNullException.ThrowIfNull(observations);
        Observation[] sorted = [.. observations];
        Array.Sort(sorted, static (a, b) => a.Time.CompareTo(b.Time));
        return sorted.Length > 0 && sorted[0].Time < 0
            ? throw new ArgumentOutOfRangeException(nameof(observations), sorted[0].Time, "Times count from the start: not below 0.")
            : sorted;
    }
}

/// <summary>A walk over sorted observations from one time to the next.</summary>
internal ref struct TimeWalk(ReadOnlySpan<Observation> sorted)
{
    private readonly ReadOnlySpan<Observation> _sorted = sorted;
    private int _next;

    /// <summary>The time stood at.</summary>
    public int Time { get; private set; }

    /// <summary>How many were still watched just before it.</summary>
    public int AtRisk { get; private set; }

    /// <summary>To how many it happened then.</summary>
    public int Events { get; private set; }

    /// <summary>How many were watched no longer than that.</summary>
    public int Censored { get; private set; }

    /// <summary>Goes to the next time; false when there is none.</summary>
    public bool Next()
    {
        if (_next == _sorted.Length)
        {
            return false;
        }

        var first = _next;
        (Time, AtRisk, Events) = (_sorted[_next].Time, _sorted.Length - _next, 0);
        for (; _next < _sorted.Length && _sorted[_next].Time == Time; _next++)
        {
            Events += _sorted[_next].Happened ? 1 : 0;
        }

        Censored = _next - first - Events;
        return true;
    }
}
