namespace ShopDiag.Comebacks.Statistics;

/// <summary>The times at which it happened to anyone of all, and how many were at risk: what groups are compared along.</summary>
internal sealed class EventTimeline
{
    private readonly int[] _times;
    private readonly double[] _atRisk;
    private readonly double[] _events;

    private EventTimeline(int[] times, double[] atRisk, double[] events) => (_times, _atRisk, _events) = (times, atRisk, events);

    /// <summary>How many times there are.</summary>
    public int Length => _times.Length;

    /// <summary>The timeline of all observations, in order of time.</summary>
    public static EventTimeline OfSorted(ReadOnlySpan<Observation> all)
    {
        var (times, atRisk, events) = (new List<int>(), new List<double>(), new List<double>());
        var walk = new TimeWalk(all);
        while (walk.Next())
        {
            if (walk.Events > 0)
            {
                times.Add(walk.Time);
                atRisk.Add(walk.AtRisk);
                events.Add(walk.Events);
            }
        }

        return new([.. times], [.. atRisk], [.. events]);
    }

    /// <summary>The share that a group, in order of time and part of all, is of those at risk at each time.</summary>
    public double[] SharesOf(ReadOnlySpan<Observation> group)
    {
        var shares = new double[_times.Length];
        var gone = 0;
        for (var t = 0; t < _times.Length; t++)
        {
            for (; gone < group.Length && group[gone].Time < _times[t]; gone++)
            {
            }

            shares[t] = (group.Length - gone) / _atRisk[t];
        }

        return shares;
    }

    /// <summary>What a group with these shares would be expected to have: Σ d·n₁/n.</summary>
    public double Expected(double[] shares)
    {
        var sum = 0.0;
        for (var t = 0; t < shares.Length; t++)
        {
            sum += _events[t] * shares[t];
        }

        return sum;
    }

    /// <summary>The hypergeometric covariance of two groups' events: Σ d (n−d)/(n−1) · n₁/n · (1 − n₁/n) for one with itself, − n₁n₂/n² for two different ones.</summary>
    public double Covariance(double[] one, double[] other)
    {
        var same = ReferenceEquals(one, other);
        var sum = 0.0;
        for (var t = 0; t < one.Length; t++)
        {
            sum += Spread(t) * one[t] * ((same ? 1 : 0) - other[t]);
        }

        return sum;
    }

    private double Spread(int t) => _atRisk[t] > 1 ? _events[t] * (_atRisk[t] - _events[t]) / (_atRisk[t] - 1) : 0;
}
