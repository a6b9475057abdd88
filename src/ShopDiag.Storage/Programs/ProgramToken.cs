using System.Collections.Immutable;
using ShopDiag.Storage.People;

namespace ShopDiag.Storage.Programs;

/// <summary>What a program may do with its token. Few and plain: whoever ticks a box has to see what it gives away.</summary>
public enum TokenGrant
{
    /// <summary>Have workups, recordings, waveforms and OBD messages worked out that it sends; it sees nothing of the shop.</summary>
    WorkOut,

    /// <summary>Parts lists and bench sheets of orders: nothing of customers and no prices stands on them.</summary>
    Papers,

    /// <summary>Customer reports and invoices: names, telephone numbers and prices stand on them.</summary>
    CustomerPapers,

    /// <summary>The owner's figures: comebacks, also by technician.</summary>
    Figures,
}

/// <summary>A program that may ask the shop over HTTP with a secret of its own. The secret is nowhere in the records: it was shown once, its hash is kept.</summary>
public sealed record ProgramToken
{
    /// <summary>Longest name, characters.</summary>
    public const int NameLength = Person.NameLength;

    /// <summary>Key.</summary>
    public required Guid Id { get; init; }

    /// <summary>Which program it is for, in the owner's words.</summary>
    public required string Name { get; init; }

    /// <summary>What it may do; at least one.</summary>
    public required ImmutableArray<TokenGrant> Grants { get; init; }

    /// <summary>When it was made, UTC.</summary>
    public required DateTime MadeAt { get; init; }

    /// <summary>The owner who made it: it holds while that person is an owner who may sign in.</summary>
    public required Guid MadeById { get; init; }

    /// <summary>Their name at the time.</summary>
    public required string MadeBy { get; init; }

    /// <summary>From then on it does not hold, UTC; null for no end.</summary>
    public DateTime? ExpiresAt { get; init; }

    /// <summary>Its last use, UTC, to within <see cref="TokenDirectory.UseNoted"/>; null for never.</summary>
    public DateTime? LastUsedAt { get; init; }

    /// <summary>When it was revoked, UTC; null while it was not.</summary>
    public DateTime? RevokedAt { get; init; }

    /// <summary>Who revoked it; empty while nobody has.</summary>
    public string RevokedBy { get; init; } = "";

    /// <summary>What a grant gives, as permissions. All of them only read.</summary>
    public static Permission PermissionOf(TokenGrant grant) => grant switch
    {
        TokenGrant.WorkOut => Permission.WorkOut,
        TokenGrant.Papers => Permission.PrintPapers,
        TokenGrant.CustomerPapers => Permission.PrintCustomerPapers,
        TokenGrant.Figures => Permission.SeeFigures,
        _ => throw new ArgumentOutOfRangeException(nameof(grant), grant, "Unknown grant."),
    };
}
