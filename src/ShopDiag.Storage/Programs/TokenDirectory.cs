using System.Collections.Concurrent;
using System.Collections.Immutable;
using Microsoft.EntityFrameworkCore;
using ShopDiag.Storage.People;
using ShopDiag.Storage.Rows;
using ShopDiag.Storage.Writing;

namespace ShopDiag.Storage.Programs;

/// <summary>All tokens as this process knows them: in memory, so that every request is checked against what holds now. What an owner does with them stands in <see cref="TokenStore"/>.</summary>
public sealed class TokenDirectory
{
    /// <summary>A use is noted at most so often: a program may ask many times a second, and each note is a write to disk.</summary>
    public static readonly TimeSpan UseNoted = TimeSpan.FromHours(1);

    private readonly IDbContextFactory<ShopDb> _contexts;
    private readonly WriteQueue _writer;
    private readonly PeopleDirectory _people;
    private readonly ConcurrentDictionary<Guid, DateTime> _noted = new();
    private readonly Lock _gate = new();
    private Known? _known;

    internal TokenDirectory(IDbContextFactory<ShopDb> contexts, WriteQueue writer, PeopleDirectory people, ChangeBus bus)
    {
        (_contexts, _writer, _people) = (contexts, writer, people);
        // A backup that is put back has other tokens.
        bus.Replaced += Forget;
    }

    /// <summary>Raised after a change is on disk; must not block.</summary>
    public event Action? Changed;

    /// <summary>Every token there ever was, the newest first.</summary>
    public ImmutableArray<ProgramToken> All => Now.All;

    private Known Now
    {
        get
        {
            lock (_gate)
            {
                return _known ??= Read();
            }
        }
    }

    /// <summary>The token whose secret this is, if it holds; null otherwise, whatever the reason.</summary>
    public ProgramToken? Find(string? secret, DateTimeOffset now) => TokenSecret.Hash(secret) is { } hash && Now.ByHash.TryGetValue(hash, out var token) && Holds(token, now) ? token : null;

    /// <summary>Who acts with a token, as things are now: nobody once it does not hold any more.</summary>
    public Actor ActorOf(Guid id, DateTimeOffset now) => Now.ById.TryGetValue(id, out var token) && Holds(token, now) ? Actor.Of(token) : Actor.Nobody;

    /// <summary>True while it is neither revoked nor over, and whoever made it is an owner who may sign in: a token never outlives what its maker may give away.</summary>
    public bool Holds(ProgramToken token, DateTimeOffset now)
    {
        ArgumentNullException.ThrowIfNull(token);
        return token.RevokedAt is null && !(token.ExpiresAt <= now.UtcDateTime) && MakerStands(token);
    }

    /// <summary>True while whoever made it is an owner who may sign in.</summary>
    public bool MakerStands(ProgramToken token)
    {
        ArgumentNullException.ThrowIfNull(token);
        return _people.Find(token.MadeById) is { IsActive: true, Role: PersonRole.Owner };
    }

    /// <summary>Notes that a token was used, unless that was noted within <see cref="UseNoted"/>.</summary>
    public async Task UsedAsync(ProgramToken token, DateTimeOffset now, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(token);
        var at = now.UtcDateTime;
        if (at - token.LastUsedAt < UseNoted || at - _noted.GetValueOrDefault(token.Id) < UseNoted)
        {
            return;
        }

        // Before the write: of many requests at once one notes it.
        _noted[token.Id] = at;
        await _writer.RunAsync(
            Actor.Program,
            async write => await write.Db.Tokens.Where(t => t.Id == token.Id).ExecuteUpdateAsync(t => t.SetProperty(x => x.LastUsedAt, write.Now), CancellationToken.None).ConfigureAwait(false),
            cancel).ConfigureAwait(false);
        Refresh();
    }

    /// <summary>Reads everything anew after a change and tells those who listen.</summary>
    internal void Refresh()
    {
        lock (_gate)
        {
            _known = Read();
        }

        Changed?.Invoke();
    }

    private void Forget()
    {
        lock (_gate)
        {
            _known = null;
        }

        Changed?.Invoke();
    }

    private Known Read()
    {
        using var db = _contexts.CreateDbContext();
        var rows = db.Tokens.AsNoTracking().ToList();
        return new(
            [.. rows.Select(r => r.ToRecord()).OrderByDescending(t => t.MadeAt)],
            rows.ToImmutableDictionary(r => r.Id, r => r.ToRecord()),
            rows.ToImmutableDictionary(r => r.SecretHash, r => r.ToRecord(), StringComparer.Ordinal));
    }

    /// <summary>A state of the table.</summary>
    private sealed record Known(ImmutableArray<ProgramToken> All, ImmutableDictionary<Guid, ProgramToken> ById, ImmutableDictionary<string, ProgramToken> ByHash);
}
