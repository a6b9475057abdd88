using System.Collections.Immutable;
using Microsoft.EntityFrameworkCore;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.People;
using ShopDiag.Storage.Rows;
using ShopDiag.Storage.Writing;

namespace ShopDiag.Storage.Programs;

/// <summary>What an owner does with the tokens of programs. The hash of a secret comes in, never the secret.</summary>
public sealed class TokenStore
{
    /// <summary>Most tokens that hold at the same time: more than a shop has programs, and a list that can still be looked over.</summary>
    public const int Most = 50;

    private readonly ShopWriter _writer;
    private readonly TokenDirectory _directory;

    internal TokenStore(ShopWriter writer, TokenDirectory directory) => (_writer, _directory) = (writer, directory);

    /// <summary>Keeps a token for a program.</summary>
    /// <param name="id">Key, made before the first try.</param>
    /// <param name="name">Which program it is for.</param>
    /// <param name="grants">What it may do.</param>
    /// <param name="expiresAt">From when on it does not hold, UTC; null for no end.</param>
    /// <param name="secretHash">What <see cref="TokenSecret.Hash"/> makes of the secret.</param>
    /// <param name="cancel">Gives up waiting.</param>
    public Task<SaveResult> MakeAsync(Guid id, string name, ImmutableArray<TokenGrant> grants, DateTime? expiresAt, string secretHash, CancellationToken cancel = default)
    {
        var tidy = PlainText.Line(name);
        return RunAsync(
            async write =>
            {
                if (await write.Db.Tokens.AnyAsync(t => t.Id == id).ConfigureAwait(false))
                {
                    return new(SaveOutcome.AlreadySaved, tidy);
                }

                var held = await write.Db.Tokens.Where(t => t.RevokedAt == null && (t.ExpiresAt == null || t.ExpiresAt > write.Now)).Select(t => t.Name).ToListAsync().ConfigureAwait(false);
                if (Fault(tidy, grants, expiresAt, write.Now, held) is { } fault)
                {
                    return Refused(fault);
                }

                if (write.Actor.PersonId is not { } maker)
                {
                    return Refused("A token is made by an owner who is signed in: it holds as long as that person is an owner.");
                }

                write.Db.Tokens.Add(TokenRow.Of(
                    new() { Id = id, Name = tidy, Grants = [.. grants.Distinct().Order()], MadeAt = write.Now, MadeById = maker, MadeBy = write.Actor.Name, ExpiresAt = expiresAt }, secretHash));
                write.Record("make token", after: $"{tidy}: {string.Join(", ", grants.Distinct().Order())}");
                return new(SaveOutcome.Saved, tidy);
            },
            cancel);
    }

    /// <summary>Revokes a token: it is refused from the next request on, and cannot be made to hold again.</summary>
    public Task<SaveResult> RevokeAsync(Guid id, CancellationToken cancel = default) => RunAsync(
        async write =>
        {
            if (await write.Db.Tokens.SingleOrDefaultAsync(t => t.Id == id).ConfigureAwait(false) is not { } row)
            {
                return Refused("There is no such token.");
            }

            if (row.RevokedAt is not null)
            {
                return new(SaveOutcome.AlreadySaved, row.Name);
            }

            (row.RevokedAt, row.RevokedBy) = (write.Now, write.Actor.Name);
            write.Record("revoke token", row.Name);
            return new(SaveOutcome.Saved, row.Name);
        },
        cancel);

    /// <summary>
    /// Of a backup on its way back: a token goes on only where it is among those that hold in the records in use. One that was revoked since must not come back with the backup, and on another computer a backup
    /// must not open the shop to whoever has an old secret.
    /// </summary>
    internal static async Task RevokeAllButAsync(ShopDb staged, IReadOnlyCollection<string> held, DateTime at)
    {
        foreach (var row in await staged.Tokens.Where(t => t.RevokedAt == null).ToListAsync().ConfigureAwait(false))
        {
            if (!held.Contains(row.SecretHash))
            {
                (row.RevokedAt, row.RevokedBy) = (at, "a backup put back");
            }
        }
    }

    private static string? Fault(string name, ImmutableArray<TokenGrant> grants, DateTime? expiresAt, DateTime now, List<string> held) => name switch
    {
        { Length: 0 or > ProgramToken.NameLength } => $"Say which program it is for, in 1 to {ProgramToken.NameLength} characters.",
        _ when grants.IsDefaultOrEmpty => "Tick at least one thing that the program may do.",
        _ when expiresAt <= now => "The last day has passed already. Choose a later one, or none.",
        _ when held.Contains(name, StringComparer.OrdinalIgnoreCase) => "A program of that name has a token already. Choose another name, so that the two can be told apart, or revoke that one first.",
        _ when held.Count >= Most => $"There are {Most} tokens already. Revoke one that is not needed any more.",
        _ => null,
    };

    private static SaveResult Refused(string message) => new(SaveOutcome.Refused, "", message);

    private async Task<SaveResult> RunAsync(Func<WriteScope, Task<SaveResult>> command, CancellationToken cancel)
    {
        var result = await _writer.SaveAsync(Permission.ManagePeople, command, cancel).ConfigureAwait(false);
        _directory.Refresh();
        return result;
    }
}
