namespace ShopDiag.Signals.Cancellations;

/// <summary>
/// Which fall belongs to which rise: the choice of pairs, none within another, that explains most of the edges. A fall that no rise answers (the slow decay of the overshoot
/// after a release) stays alone.
/// </summary>
internal static class Pairing
{
    private const double Shortest = 0.8;
    private const double Longest = 25;

    /// <summary>The speed must come back by this share of the fall.</summary>
    private const double LeastReturn = 0.35;

    /// <summary>Edges within a pair that it does not explain count against it by this much of their size.</summary>
    private const double Unexplained = 1.5;

    public static List<(Edge Fall, Edge Rise)> Pairs(List<Edge> edges)
    {
        var best = new double[edges.Count + 1];
        var from = new int[edges.Count + 1];
        for (var end = 1; end <= edges.Count; end++)
        {
            (best[end], from[end]) = (best[end - 1], -1);
            var inside = 0.0;
            for (var start = end - 2; start >= 0; start--)
            {
                var value = best[start] + Value(edges[start], edges[end - 1]) - (Unexplained * inside);
                if (value > best[end])
                {
                    (best[end], from[end]) = (value, start);
                }

                inside += Math.Abs(edges[start].Rpm);
            }
        }

        var pairs = new List<(Edge, Edge)>();
        for (var end = edges.Count; end > 0;)
        {
            if (from[end] >= 0)
            {
                pairs.Add((edges[from[end]], edges[end - 1]));
                end = from[end];
            }
            else
            {
                end--;
            }
        }

        pairs.Reverse();
        return pairs;
    }

    private static double Value(Edge fall, Edge rise)
    {
        var length = rise.Seconds - fall.Seconds;
        return fall.Rpm < 0 && rise.Rpm > 0 && length is >= Shortest and <= Longest && rise.Rpm >= LeastReturn * -fall.Rpm
            ? Math.Min(-fall.Rpm, rise.Rpm)
            : double.NegativeInfinity;
    }
}
