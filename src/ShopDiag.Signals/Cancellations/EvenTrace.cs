using ShopDiag.Signals.Speed;
using ShopDiag.Signals.Transform;

namespace ShopDiag.Signals.Cancellations;

/// <summary>A trace at even times, without single wild points. Gaps are bridged straight and remembered.</summary>
internal sealed class EvenTrace
{
    /// <summary>A median over this long takes out single wild points and leaves the shortest cancellation whole.</summary>
    private const double MedianSeconds = 0.45;

    /// <summary>Points further apart than this, and than three usual steps, leave a gap.</summary>
    private const double GapSeconds = 1.5;

    private readonly double[] _sums;
    private readonly double[] _clear;
    private readonly bool[] _gap;

    public EvenTrace(SpeedTrace trace)
    {
        var points = trace.Points;
        var usual = Middle.Of([.. points.Zip(points.Skip(1), (a, b) => b.Seconds - a.Seconds)]);
        Hop = Math.Clamp(usual, 0.05, 1);
        Start = points[0].Seconds;
        Count = (int)((points[^1].Seconds - Start) / Hop) + 1;
        var (rpm, clear, gap) = (new double[Count], new double[Count], new bool[Count]);
        for (int i = 0, p = 0; i < Count; i++)
        {
            var t = At(i);
            while (p < points.Length - 2 && points[p + 1].Seconds <= t)
            {
                p++;
            }

            var (a, b) = (points[p], points[Math.Min(p + 1, points.Length - 1)]);
            var width = b.Seconds - a.Seconds;
            var x = width > 0 ? Math.Clamp((t - a.Seconds) / width, 0, 1) : 0;
            rpm[i] = a.Rpm + (x * (b.Rpm - a.Rpm));
            clear[i] = Math.Min(a.Confidence, b.Confidence);
            gap[i] = width > Math.Max(GapSeconds, 3 * usual);
        }

        Rpm = Middle.Filter(rpm, (int)(MedianSeconds / Hop / 2));
        (_clear, _gap) = (clear, gap);
        _sums = new double[Count + 1];
        for (var i = 0; i < Count; i++)
        {
            _sums[i + 1] = _sums[i] + Rpm[i];
        }
    }

    /// <summary>Seconds between points.</summary>
    public double Hop { get; }

    public double Start { get; }

    public int Count { get; }

    public double[] Rpm { get; }

    public double End => At(Count - 1);

    public double At(int i) => Start + (i * Hop);

    /// <summary>The point nearest to a time, held to the trace.</summary>
    public int Index(double seconds) => Math.Clamp((int)Math.Round((seconds - Start) / Hop, MidpointRounding.AwayFromZero), 0, Count - 1);

    /// <summary>Mean speed between two times; of the nearest point where none lies between.</summary>
    public double Mean(double from, double to)
    {
        var first = Index(from);
        var last = Math.Max(first, Index(to));
        return (_sums[last + 1] - _sums[first]) / (last - first + 1);
    }

    /// <summary>The lowest mean over a second (or what there is) that lies between two times.</summary>
    public double LowestMean(double from, double to)
    {
        var width = Math.Min(1, Math.Max(0, to - from));
        var lowest = Mean(from, from + width);
        for (var t = from + Hop; t + width <= to + (Hop / 2); t += Hop)
        {
            lowest = Math.Min(lowest, Mean(t, t + width));
        }

        return lowest;
    }

    /// <summary>Share of the points between two times that are clear and lie in no gap.</summary>
    public double ClearShare(double from, double to)
    {
        var (first, last) = (Index(from), Index(to));
        var clear = 0;
        for (var i = first; i <= last; i++)
        {
            clear += _clear[i] >= SpeedTrace.Clear && !_gap[i] ? 1 : 0;
        }

        return (double)clear / (last - first + 1);
    }
}
