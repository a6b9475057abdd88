using System.Collections.Immutable;
using ShopDiag.Comebacks.Statistics;

namespace ShopDiag.Comebacks.Figures;

/// <summary>Bench minutes from the first reading to the proof of a cause.</summary>
public sealed record BenchMinutes
{
    /// <summary>The cause's id.</summary>
    public required string Cause { get; init; }

    /// <summary>Median and quartiles in minutes.</summary>
    public required Quartiles Minutes { get; init; }

    /// <summary>Mean and scatter in minutes; a few long hunts carry the mean away, so the median is what to go by.</summary>
    public required Moments Scatter { get; init; }

    /// <summary>The orders, by number; one on which two causes were repaired stands with each.</summary>
    public required ImmutableArray<Guid> Orders { get; init; }

    /// <summary>True when there are few (<see cref="SmallNumbers.LeastRepairs"/>).</summary>
    public bool AreSmallNumbers => SmallNumbers.AreSmall(Orders.Length);

    /// <summary>By cause, the longest median first, of the repairs whose cause was proven and whose minutes are known.</summary>
    public static ImmutableArray<BenchMinutes> ByCause(FollowedRepairs followed)
    {
        ArgumentNullException.ThrowIfNull(followed);
        return
        [
            .. followed.All.Select(f => f.Case)
                .Where(c => c.ProofGiven == true && c.MinutesToProof is >= 0 and < double.PositiveInfinity)
                .SelectMany(c => c.Causes.Select(cause => (Cause: cause, c.MinutesToProof!.Value, c.OrderId)))
                .GroupBy(x => x.Cause, StringComparer.Ordinal)
                .Select(g => new BenchMinutes
                {
                    Cause = g.Key,
                    Minutes = Quartiles.Of(g.Select(x => x.Value)),
                    Scatter = Moments.Of([.. g.Select(x => x.Value)]),
                    Orders = [.. g.Select(x => x.OrderId)],
                })
                .OrderByDescending(b => b.Minutes.Median)
                .ThenBy(b => b.Cause, StringComparer.Ordinal),
        ];
    }
}
