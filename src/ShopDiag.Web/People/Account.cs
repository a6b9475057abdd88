using System.Collections.Immutable;
using System.Runtime.InteropServices;
using Microsoft.AspNetCore.Identity;
using ShopDiag.Storage.People;

namespace ShopDiag.Web.People;

/// <summary>A person as ASP.NET Core Identity handles one: it asks for changes piece by piece and saves them together.</summary>
public sealed class Account(Person person)
{
    /// <summary>The person with the changes so far.</summary>
    public Person Person { get; set; } = person;
}

/// <summary>
/// Identity's store over ours: the same SQLite file, through the one writer of the process. Identity's own entity classes would save beside the write queue and wait for its locks.
/// </summary>
public sealed class AccountStore(PeopleDirectory people) : IUserPasswordStore<Account>, IUserSecurityStampStore<Account>, IUserLockoutStore<Account>, IUserPasskeyStore<Account>
{
    private const string OnlyThroughStores = "People are added in the set-up and by the owner, and never deleted.";

    /// <inheritdoc/>
    public Task<string> GetUserIdAsync(Account user, CancellationToken cancellationToken) => Task.FromResult(user.Person.Id.ToString());

    /// <inheritdoc/>
    public Task<string?> GetUserNameAsync(Account user, CancellationToken cancellationToken) => Task.FromResult<string?>(user.Person.Login);

    /// <inheritdoc/>
    public Task<string?> GetNormalizedUserNameAsync(Account user, CancellationToken cancellationToken) => Task.FromResult<string?>(user.Person.Login);

    /// <inheritdoc/>
    public Task SetUserNameAsync(Account user, string? userName, CancellationToken cancellationToken) => throw new NotSupportedException(OnlyThroughStores);

    /// <inheritdoc/>
    public Task SetNormalizedUserNameAsync(Account user, string? normalizedName, CancellationToken cancellationToken) => Task.CompletedTask;

    /// <inheritdoc/>
    public Task<IdentityResult> CreateAsync(Account user, CancellationToken cancellationToken) => throw new NotSupportedException(OnlyThroughStores);

    /// <inheritdoc/>
    public Task<IdentityResult> DeleteAsync(Account user, CancellationToken cancellationToken) => throw new NotSupportedException(OnlyThroughStores);

    /// <inheritdoc/>
    public async Task<IdentityResult> UpdateAsync(Account user, CancellationToken cancellationToken)
    {
        if (!await people.ReplaceAsync(user.Person, cancellationToken))
        {
            return IdentityResult.Failed(new IdentityErrorDescriber().ConcurrencyFailure());
        }

        user.Person = people.Find(user.Person.Id)!;
        return IdentityResult.Success;
    }

    /// <inheritdoc/>
    public Task<Account?> FindByIdAsync(string userId, CancellationToken cancellationToken) =>
        Task.FromResult(Guid.TryParse(userId, out var id) && people.Find(id) is { } person ? new Account(person) : null);

    /// <inheritdoc/>
    public Task<Account?> FindByNameAsync(string normalizedUserName, CancellationToken cancellationToken) =>
        Task.FromResult(people.FindByLogin(normalizedUserName) is { } person ? new Account(person) : null);

    /// <inheritdoc/>
    public Task SetPasswordHashAsync(Account user, string? passwordHash, CancellationToken cancellationToken) => Change(user, p => p with { PasswordHash = passwordHash ?? "" });

    /// <inheritdoc/>
    public Task<string?> GetPasswordHashAsync(Account user, CancellationToken cancellationToken) => Task.FromResult(user.Person.PasswordHash is { Length: > 0 } hash ? hash : null);

    /// <inheritdoc/>
    public Task<bool> HasPasswordAsync(Account user, CancellationToken cancellationToken) => Task.FromResult(user.Person.PasswordHash.Length > 0);

    /// <inheritdoc/>
    public Task SetSecurityStampAsync(Account user, string stamp, CancellationToken cancellationToken) => Change(user, p => p with { Stamp = stamp });

    /// <inheritdoc/>
    public Task<string?> GetSecurityStampAsync(Account user, CancellationToken cancellationToken) => Task.FromResult<string?>(user.Person.Stamp);

    /// <inheritdoc/>
    public Task<DateTimeOffset?> GetLockoutEndDateAsync(Account user, CancellationToken cancellationToken) =>
        Task.FromResult(user.Person.PasswordBlockedUntil is { } until ? (DateTimeOffset?)new DateTimeOffset(until, TimeSpan.Zero) : null);

    /// <inheritdoc/>
    public Task SetLockoutEndDateAsync(Account user, DateTimeOffset? lockoutEnd, CancellationToken cancellationToken) =>
        Change(user, p => p with { PasswordBlockedUntil = lockoutEnd?.UtcDateTime });

    /// <inheritdoc/>
    public Task<int> IncrementAccessFailedCountAsync(Account user, CancellationToken cancellationToken)
    {
        user.Person = user.Person with { PasswordFailures = user.Person.PasswordFailures + 1 };
        return Task.FromResult(user.Person.PasswordFailures);
    }

    /// <inheritdoc/>
    public Task ResetAccessFailedCountAsync(Account user, CancellationToken cancellationToken) => Change(user, p => p with { PasswordFailures = 0 });

    /// <inheritdoc/>
    public Task<int> GetAccessFailedCountAsync(Account user, CancellationToken cancellationToken) => Task.FromResult(user.Person.PasswordFailures);

    /// <inheritdoc/>
    public Task<bool> GetLockoutEnabledAsync(Account user, CancellationToken cancellationToken) => Task.FromResult(true);

    /// <inheritdoc/>
    public Task SetLockoutEnabledAsync(Account user, bool enabled, CancellationToken cancellationToken) => Task.CompletedTask;

    /// <inheritdoc/>
    public Task AddOrUpdatePasskeyAsync(Account user, UserPasskeyInfo passkey, CancellationToken cancellationToken) => Change(user, p =>
    {
        var changed = Keep(passkey);
        var known = p.Passkeys.FirstOrDefault(k => k.Is(passkey.CredentialId));
        return p with { Passkeys = known is null ? p.Passkeys.Add(changed) : p.Passkeys.Replace(known, changed with { LastUsedAt = known.LastUsedAt }) };
    });

    /// <inheritdoc/>
    public Task<IList<UserPasskeyInfo>> GetPasskeysAsync(Account user, CancellationToken cancellationToken) => Task.FromResult<IList<UserPasskeyInfo>>([.. user.Person.Passkeys.Select(Told)]);

    /// <inheritdoc/>
    public Task<Account?> FindByPasskeyIdAsync(byte[] credentialId, CancellationToken cancellationToken) => Task.FromResult(people.FindByPasskey(credentialId) is { } person ? new Account(person) : null);

    /// <inheritdoc/>
    public Task<UserPasskeyInfo?> FindPasskeyAsync(Account user, byte[] credentialId, CancellationToken cancellationToken) =>
        Task.FromResult(user.Person.Passkeys.FirstOrDefault(k => k.Is(credentialId)) is { } known ? Told(known) : null);

    /// <inheritdoc/>
    public Task RemovePasskeyAsync(Account user, byte[] credentialId, CancellationToken cancellationToken) =>
        Change(user, p => p with { Passkeys = p.Passkeys.RemoveAll(k => k.Is(credentialId)) });

    /// <summary>A passkey as the store keeps it.</summary>
    public static Passkey Keep(UserPasskeyInfo passkey)
    {
        ArgumentNullException.ThrowIfNull(passkey);
        return new()
        {
            CredentialId = [.. passkey.CredentialId],
            Name = passkey.Name ?? "",
            PublicKey = [.. passkey.PublicKey],
            SignCount = passkey.SignCount,
            Transports = [.. passkey.Transports ?? []],
            IsUserVerified = passkey.IsUserVerified,
            IsBackupEligible = passkey.IsBackupEligible,
            IsBackedUp = passkey.IsBackedUp,
            Attestation = [.. passkey.AttestationObject],
            ClientData = [.. passkey.ClientDataJson],
            CreatedAt = passkey.CreatedAt.UtcDateTime,
        };
    }

    /// <inheritdoc/>
    public void Dispose()
    {
    }

    private static UserPasskeyInfo Told(Passkey kept) => new(
        Bytes(kept.CredentialId), Bytes(kept.PublicKey), new(kept.CreatedAt, TimeSpan.Zero), (uint)kept.SignCount, [.. kept.Transports], kept.IsUserVerified, kept.IsBackupEligible, kept.IsBackedUp,
        Bytes(kept.Attestation), Bytes(kept.ClientData))
    {
        Name = kept.Name,
    };

    private static byte[] Bytes(ImmutableArray<byte> kept) => ImmutableCollectionsMarshal.AsArray(kept) ?? [];

    private static Task Change(Account user, Func<Person, Person> change)
    {
        user.Person = change(user.Person);
        return Task.CompletedTask;
    }
}

/// <summary>Sign-in names are compared as <see cref="Person.TidyLogin"/> writes them.</summary>
public sealed class LoginNormalizer : ILookupNormalizer
{
    /// <inheritdoc/>
    public string? NormalizeName(string? name) => name is null ? null : Person.TidyLogin(name);

    /// <inheritdoc/>
    public string? NormalizeEmail(string? email) => email;
}
