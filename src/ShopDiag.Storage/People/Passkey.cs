using System.Collections.Immutable;

namespace ShopDiag.Storage.People;

/// <summary>A passkey of somebody: what W3C Web Authentication calls a public key credential. The secret half never leaves the device that made it.</summary>
public sealed record Passkey
{
    /// <summary>Longest name, characters.</summary>
    public const int NameLength = 60;

    /// <summary>Most passkeys of one person: one for each device they carry, and some more.</summary>
    public const int Most = 10;

    /// <summary>The credential's id, made by the device.</summary>
    public required ImmutableArray<byte> CredentialId { get; init; }

    /// <summary>What its owner calls it.</summary>
    public string Name { get; init; } = "";

    /// <summary>The public half, as the device gave it (COSE, RFC 9052).</summary>
    public required ImmutableArray<byte> PublicKey { get; init; }

    /// <summary>How often the device says it has signed; 0 from devices that do not count.</summary>
    public long SignCount { get; init; }

    /// <summary>How the device can be reached, in the words of the standard (<c>internal</c>, <c>usb</c>).</summary>
    public ImmutableArray<string> Transports { get; init; } = [];

    /// <summary>True when the device made sure of the person, by PIN or finger.</summary>
    public bool IsUserVerified { get; init; }

    /// <summary>True when it may be copied to other devices of the person.</summary>
    public bool IsBackupEligible { get; init; }

    /// <summary>True when it has been.</summary>
    public bool IsBackedUp { get; init; }

    /// <summary>What the device said of itself when it made the key.</summary>
    public ImmutableArray<byte> Attestation { get; init; } = [];

    /// <summary>What the browser said of the page it was made on (JSON).</summary>
    public ImmutableArray<byte> ClientData { get; init; } = [];

    /// <summary>When it was made, UTC.</summary>
    public required DateTime CreatedAt { get; init; }

    /// <summary>Its last sign-in, UTC; null for none.</summary>
    public DateTime? LastUsedAt { get; init; }

    /// <summary>True for the passkey with this credential id.</summary>
    public bool Is(ReadOnlySpan<byte> credentialId) => CredentialId.AsSpan().SequenceEqual(credentialId);
}
