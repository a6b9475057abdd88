using System.Collections.Immutable;

namespace ShopDiag.Comebacks.Figures;

/// <summary>What became of the repairs on which parts were fitted though the cause was not proven.</summary>
/// <param name="Standing">What became of them.</param>
/// <param name="Parts">How many parts.</param>
/// <param name="Orders">On which orders, by number.</param>
public sealed record PartsOutcome(Standing Standing, int Parts, ImmutableArray<Guid> Orders);

/// <summary>Parts fitted without proof and what became of them.</summary>
public sealed record PartsWithoutProof
{
    /// <summary>How many parts.</summary>
    public int Parts => Outcomes.Sum(o => o.Parts);

    /// <summary>On how many orders.</summary>
    public int Orders => Outcomes.Sum(o => o.Orders.Length);

    /// <summary>By what became of the repair, every <see cref="Standing"/> once and in its order.</summary>
    public required ImmutableArray<PartsOutcome> Outcomes { get; init; }

    /// <summary>Counts them. That a repair held does not say that the part was needed: another done with it may have mended the car.</summary>
    public static PartsWithoutProof Of(FollowedRepairs followed)
    {
        ArgumentNullException.ThrowIfNull(followed);
        var found = followed.All
            .Select(f => (f.Standing, f.Case.OrderId, Parts: f.Case.Parts.Count(p => p.WithoutProof)))
            .Where(f => f.Parts > 0)
            .ToLookup(f => f.Standing);
        return new() { Outcomes = [.. Enum.GetValues<Standing>().Select(s => new PartsOutcome(s, found[s].Sum(f => f.Parts), [.. found[s].Select(f => f.OrderId)]))] };
    }
}
