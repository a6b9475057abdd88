using ShopDiag.Signals.Transform;

namespace ShopDiag.Signals.Cancellations;

/// <summary>A place where the speed steps down (below 0) or up.</summary>
internal readonly record struct Edge(double Seconds, double Rpm);

/// <summary>
/// Where the speed steps: the mean over a second after a moment less the mean over a second before it, with a pause between for the fall itself.
/// </summary>
internal sealed class Steps
{
    private const double AfterFrom = 0.35;
    private const double AfterTo = 1.35;
    private const double BeforeFrom = -1.2;
    private const double BeforeTo = -0.2;

    /// <summary>Edges nearer together than this are one.</summary>
    private const double Apart = 0.8;

    /// <summary>This share of the moments counts as steady whatever happens; of normal scatter as many lie within 0.151 standard deviations.</summary>
    private const double SteadyShare = 0.12;

    private const double SteadySigmas = 0.151;

    private const double LargeShare = 0.95;

    /// <summary>Around a cancellation the speed is not steady for this long, seconds: the step filter's own reach before, the recovery after.</summary>
    private const double UnsteadyBefore = 1.9;

    private const double UnsteadyAfter = 2.6;

    /// <summary>From the middle of one mean to that of the next, seconds.</summary>
    private const double MeansApart = 1.25;

    /// <summary>With fewer seconds outside the cancellations the wander cannot be measured there.</summary>
    private const double LeastSteady = 2;

    private readonly double[] _step;
    private readonly EvenTrace _trace;

    public Steps(EvenTrace trace)
    {
        _trace = trace;
        _step = new double[trace.Count];
        for (var i = 0; i < _step.Length; i++)
        {
            var t = trace.At(i);
            _step[i] = t + AfterFrom > trace.End || t + BeforeTo < trace.Start
                ? 0
                : trace.Mean(t + AfterFrom, t + AfterTo) - trace.Mean(t + BeforeFrom, t + BeforeTo);
        }

        double[] sizes = [.. _step.Select(Math.Abs).Order()];
        Wander = sizes[(int)(SteadyShare * (sizes.Length - 1))] / SteadySigmas;
        Large = sizes[(int)(LargeShare * (sizes.Length - 1))];
    }

    /// <summary>Size of the large steps, rpm: those of the cancellations, where there are any.</summary>
    public double Large { get; }

    /// <summary>A first idea of the standard deviation of the step where nothing is cancelled, rpm.</summary>
    public double Wander { get; }

    /// <summary>
    /// The same measured outside the cancellations found, from how a mean over a second differs from the middle between those before and after it: a slow recovery is no
    /// wander. The first idea where too little lies outside.
    /// </summary>
    public double WanderOutside(IEnumerable<(Edge Fall, Edge Rise)> pairs)
    {
        var events = pairs.ToList();
        var outside = new List<double>();
        for (var t = _trace.Start + (MeansApart + 0.5); t < _trace.End - (MeansApart + 0.5); t += Math.Max(_trace.Hop, 0.1))
        {
            if (events.TrueForAll(e => t < e.Fall.Seconds - UnsteadyBefore || t > e.Rise.Seconds + UnsteadyAfter))
            {
                double Mean(double middle) => _trace.Mean(middle - 0.5, middle + 0.5);
                outside.Add(Math.Abs(Mean(t) - ((Mean(t - MeansApart) + Mean(t + MeansApart)) / 2)));
            }
        }

        return outside.Count * Math.Max(_trace.Hop, 0.1) < LeastSteady ? Wander : 1.4826 * Math.Sqrt(2 / 1.5) * Middle.Of([.. outside]);
    }

    /// <summary>The extremes beyond a bound, in order of time.</summary>
    public List<Edge> Beyond(double bound)
    {
        var edges = new List<Edge>();
        var reach = Math.Max(1, (int)(Apart / _trace.Hop));
        for (var i = 0; i < _step.Length; i++)
        {
            if (Math.Abs(_step[i]) > bound && IsExtreme(i, reach))
            {
                edges.Add(new(_trace.At(i), _step[i]));
            }
        }

        return edges;
    }

    private bool IsExtreme(int i, int reach)
    {
        for (var j = Math.Max(0, i - reach); j <= Math.Min(_step.Length - 1, i + reach); j++)
        {
            // Of equal ones the first counts.
            var over = Math.Sign(_step[i]) * (_step[j] - _step[i]);
            if (over > 0 || (over == 0 && j < i))
            {
                return false;
            }
        }

        return true;
    }
}
