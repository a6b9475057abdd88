namespace ShopDiag.Load;

/// <summary>Times of answers, from all tablets.</summary>
internal sealed class Latencies
{
    private readonly List<double> _milliseconds = [];
    private readonly Lock _lock = new();

    public int Count => Sorted().Length;

    public void Add(TimeSpan time)
    {
        lock (_lock)
        {
            _milliseconds.Add(time.TotalMilliseconds);
        }
    }

    /// <summary>The time that a share of the answers did not exceed (nearest rank), in milliseconds; NaN without answers.</summary>
    public double Quantile(double share) => Sorted() is { Length: > 0 } sorted ? sorted[Math.Clamp((int)Math.Ceiling(share * sorted.Length) - 1, 0, sorted.Length - 1)] : double.NaN;

    private double[] Sorted()
    {
        lock (_lock)
        {
            return [.. _milliseconds.Order()];
        }
    }
}
