using System.Collections.Immutable;

namespace ShopDiag.Storage.People;

/// <summary>Somebody who works in the shop. Never deleted: records name them.</summary>
public sealed record Person
{
    /// <summary>Longest name and sign-in name, characters.</summary>
    public const int NameLength = 60;

    /// <summary>Key.</summary>
    public required Guid Id { get; init; }

    /// <summary>The name they sign in with; lower case, unique.</summary>
    public required string Login { get; init; }

    /// <summary>The name that stands in the records.</summary>
    public required string Name { get; init; }

    /// <summary>What they may do.</summary>
    public required PersonRole Role { get; init; }

    /// <summary>False for somebody who has left: cannot sign in.</summary>
    public bool IsActive { get; init; } = true;

    /// <summary>Hash of the password; empty for none.</summary>
    public string PasswordHash { get; init; } = "";

    /// <summary>True when the owner gave the password out: it has to be changed at the next sign-in.</summary>
    public bool MustChangePassword { get; init; }

    /// <summary>Changes whenever everybody signed in as this person has to be signed out.</summary>
    public string Stamp { get; init; } = "";

    /// <summary>Wrong passwords one after the other.</summary>
    public int PasswordFailures { get; init; }

    /// <summary>No password is taken before, UTC; null for any time.</summary>
    public DateTime? PasswordBlockedUntil { get; init; }

    /// <summary>Hash of the PIN; empty for none.</summary>
    public string PinHash { get; init; } = "";

    /// <summary>Wrong PINs one after the other; a sign-in with the password begins anew.</summary>
    public int PinFailures { get; init; }

    /// <summary>No PIN is taken before, UTC; null for any time.</summary>
    public DateTime? PinBlockedUntil { get; init; }

    /// <summary>Their passkeys, the oldest first.</summary>
    public ImmutableArray<Passkey> Passkeys { get; init; } = [];

    /// <summary>When they were added, UTC.</summary>
    public required DateTime CreatedAt { get; init; }

    /// <summary>Their last sign-in, UTC; null for none.</summary>
    public DateTime? LastSignInAt { get; init; }

    /// <summary>Changes with every change of the row.</summary>
    public Guid Version { get; init; }

    /// <summary>The sign-in name as it is kept.</summary>
    public static string TidyLogin(string login)
    {
        ArgumentNullException.ThrowIfNull(login);
        return PlainText.Line(login).ToLowerInvariant();
    }

    /// <summary>Name and role only: hashes and stamps must never reach a log.</summary>
    public override string ToString() => $"{Name} ({Role}{(IsActive ? "" : ", left")})";
}

/// <summary>A device on which people may switch by PIN.</summary>
/// <param name="Id">Key.</param>
/// <param name="Name">What it is called.</param>
/// <param name="RememberedAt">Since when, UTC.</param>
/// <param name="RememberedBy">Whose password made it known.</param>
/// <param name="LastUsedAt">Last sign-in on it, UTC.</param>
public sealed record ShopDevice(Guid Id, string Name, DateTime RememberedAt, string RememberedBy, DateTime LastUsedAt);
