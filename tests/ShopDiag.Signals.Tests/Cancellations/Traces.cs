using ShopDiag.Signals.Cancellations;
using ShopDiag.Signals.Speed;

namespace ShopDiag.Signals.Tests.Cancellations;

/// <summary>Speed traces drawn by hand: a base, and for each cancellation a fall with a time constant of 0.3 s and the way back.</summary>
internal static class Traces
{
    /// <summary>A trace; <paramref name="wander"/> is the standard deviation of a slow random walk that returns, rpm.</summary>
    public static SpeedTrace Of(double seconds, (double From, double To, double Drop)[] held, double wander = 1, double baseRpm = 750, double hop = 0.05, int seed = 1, Func<double, double>? confidence = null)
    {
        var random = new Random(seed);
        var points = new List<SpeedPoint>();
        double fall = 0, walk = 0;
        for (var i = 0; i * hop < seconds; i++)
        {
            var t = i * hop;
            var target = held.Where(h => t >= h.From && t < h.To).Sum(h => h.Drop);
            fall += (target - fall) * (1 - Math.Exp(-hop / 0.3));
            walk += (-walk * hop / 1.5) + (wander * Math.Sqrt(2 * hop / 1.5) * (random.NextDouble() - 0.5) * Math.Sqrt(12));
            points.Add(new(t, baseRpm - fall + walk, confidence?.Invoke(t) ?? 1));
        }

        return new() { Points = [.. points] };
    }

    /// <summary>Cancellations of 3 s each 8 s, from 5 s on, with these drops.</summary>
    public static (double From, double To, double Drop)[] Round(params double[] drops) => [.. drops.Select((d, i) => (5.0 + (8 * i), 8.0 + (8 * i), d))];

    public static BalanceRun Find(SpeedTrace trace, int cylinders = 4, int[]? order = null, Announced[]? times = null) =>
        CancellationFinder.Find(trace, new() { Cylinders = cylinders, Order = [.. order ?? []], Times = [.. times ?? []] });
}
