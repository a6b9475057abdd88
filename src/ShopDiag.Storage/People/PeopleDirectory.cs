using System.Collections.Immutable;
using Microsoft.EntityFrameworkCore;
using ShopDiag.Storage.Rows;
using ShopDiag.Storage.Writing;

namespace ShopDiag.Storage.People;

/// <summary>
/// Everybody who may sign in, and the devices on which a PIN is enough, as this process knows them: in memory, so that every request and every change can be checked against who is still there.
/// Changes here are those of signing in itself, which nobody has to be allowed; what an owner does stands in <see cref="PeopleStore"/>.
/// </summary>
public sealed class PeopleDirectory
{
    private readonly IDbContextFactory<ShopDb> _contexts;
    private readonly WriteQueue _writer;
    private readonly Lock _gate = new();
    private Known? _known;

    internal PeopleDirectory(IDbContextFactory<ShopDb> contexts, WriteQueue writer, ChangeBus bus)
    {
        (_contexts, _writer) = (contexts, writer);
        // A backup that is put back brings the people of its day.
        bus.Replaced += Forget;
    }

    /// <summary>Raised after a change of people or devices is on disk; must not block.</summary>
    public event Action? Changed;

    /// <summary>Everybody, also those who have left, by name.</summary>
    public ImmutableArray<Person> All => [.. Now.People.Values.OrderBy(p => p.Name, StringComparer.CurrentCultureIgnoreCase)];

    /// <summary>The devices on which people may switch by PIN, the last used first.</summary>
    public ImmutableArray<ShopDevice> Devices => [.. Now.Devices.Values.Select(d => d.Device).OrderByDescending(d => d.LastUsedAt)];

    /// <summary>True while nobody has been added: the shop has to be set up.</summary>
    public bool IsEmpty => Now.People.IsEmpty;

    private void Forget()
    {
        lock (_gate)
        {
            _known = null;
        }

        Changed?.Invoke();
    }

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

    /// <summary>The person, or null.</summary>
    public Person? Find(Guid id) => Now.People.GetValueOrDefault(id);

    /// <summary>The person with a sign-in name, or null.</summary>
    public Person? FindByLogin(string login)
    {
        var tidy = Person.TidyLogin(login);
        return Now.People.Values.FirstOrDefault(p => p.Login == tidy);
    }

    /// <summary>Whose passkey it is, or null.</summary>
    public Person? FindByPasskey(ReadOnlySpan<byte> credentialId)
    {
        foreach (var person in Now.People.Values)
        {
            foreach (var passkey in person.Passkeys)
            {
                if (passkey.Is(credentialId))
                {
                    return person;
                }
            }
        }

        return null;
    }

    /// <summary>The device that holds the secret, or null for one that is not known or was forgotten.</summary>
    public ShopDevice? FindDevice(Guid id, string secretHash) =>
        Now.Devices.TryGetValue(id, out var known) && known.SecretHash == secretHash ? known.Device : null;

    /// <summary>Adds the first people of a shop, of whom one is the owner; false when somebody is there already, whoever asked first.</summary>
    public Task<bool> AddFirstAsync(IReadOnlyCollection<Person> people, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(people);
        return RunAsync(
            Actor.Program,
            async write =>
            {
                if (await write.Db.People.AnyAsync(CancellationToken.None).ConfigureAwait(false))
                {
                    return false;
                }

                foreach (var person in people)
                {
                    write.Db.People.Add(PersonRow.Of(person with { CreatedAt = write.Now, Version = Guid.NewGuid() }));
                    write.Record("set up", after: $"{person.Name}, {person.Role}");
                }

                return true;
            },
            cancel);
    }

    /// <summary>Puts a person in the place of the same one, unless somebody has changed it since it was read.</summary>
    public Task<bool> ReplaceAsync(Person person, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(person);
        return RunAsync(
            Actor.Program,
            async write =>
            {
                if (await write.Db.People.SingleOrDefaultAsync(p => p.Id == person.Id && p.Version == person.Version, CancellationToken.None).ConfigureAwait(false) is not { } row)
                {
                    return false;
                }

                write.Db.Entry(row).CurrentValues.SetValues(PersonRow.Of(person with { Version = Guid.NewGuid() }));
                return true;
            },
            cancel);
    }

    /// <summary>Changes one person on the newest state of it. Null when there is none.</summary>
    /// <param name="id">The person.</param>
    /// <param name="change">Makes the new state of the old one and the time, UTC.</param>
    /// <param name="actor">Who does it, for the record.</param>
    /// <param name="what">What it is called in the record; null to leave no entry.</param>
    /// <param name="cancel">Gives up waiting.</param>
    public Task<Person?> ChangeAsync(Guid id, Func<Person, DateTime, Person> change, Actor actor, string? what, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(change);
        return RunAsync(
            actor,
            async write =>
            {
                if (await write.Db.People.SingleOrDefaultAsync(p => p.Id == id, CancellationToken.None).ConfigureAwait(false) is not { } row)
                {
                    return null;
                }

                var changed = change(row.ToRecord(), write.Now) with { Version = Guid.NewGuid() };
                write.Db.Entry(row).CurrentValues.SetValues(PersonRow.Of(changed));
                if (what is not null)
                {
                    write.Record(what, after: changed.Name);
                }

                return changed;
            },
            cancel);
    }

    /// <summary>Enters in the record that somebody signed in, or tried.</summary>
    public Task RecordAsync(Actor actor, string what, string after, CancellationToken cancel = default) => _writer.RunAsync(
        actor,
        write =>
        {
            write.Record(what, after: after);
            return Task.FromResult(true);
        },
        cancel);

    /// <summary>Remembers a device; the secret stays on it, here is its hash.</summary>
    public Task<ShopDevice> RememberDeviceAsync(Guid id, string name, string secretHash, Actor actor, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(actor);
        return RunAsync(
            actor,
            write =>
            {
                var row = new DeviceRow { Id = id, Name = PlainText.Line(name), SecretHash = secretHash, RememberedAt = write.Now, RememberedBy = actor.Name, LastUsedAt = write.Now };
                write.Db.Devices.Add(row);
                write.Record("remember device", after: row.Name);
                return Task.FromResult(row.ToRecord());
            },
            cancel);
    }

    /// <summary>Notes that a device was used.</summary>
    public Task UsedDeviceAsync(Guid id, CancellationToken cancel = default) => RunAsync(
        Actor.Program,
        async write => await write.Db.Devices.Where(d => d.Id == id).ExecuteUpdateAsync(d => d.SetProperty(x => x.LastUsedAt, write.Now), CancellationToken.None).ConfigureAwait(false),
        cancel);

    /// <summary>A stamp or a key that nobody can guess.</summary>
    public static string NewSecret() => System.Security.Cryptography.RandomNumberGenerator.GetHexString(40, lowercase: true);

    /// <summary>Reads everything anew after a change and tells those who listen.</summary>
    internal void Refresh()
    {
        lock (_gate)
        {
            _known = Read();
        }

        Changed?.Invoke();
    }

    private async Task<T> RunAsync<T>(Actor actor, Func<WriteScope, Task<T>> command, CancellationToken cancel)
    {
        var answer = await _writer.RunAsync(actor, command, cancel).ConfigureAwait(false);
        Refresh();
        return answer;
    }

    private Known Read()
    {
        using var db = _contexts.CreateDbContext();
        return new(
            db.People.AsNoTracking().AsEnumerable().Select(p => p.ToRecord()).ToImmutableDictionary(p => p.Id),
            db.Devices.AsNoTracking().Where(d => d.ForgottenAt == null).AsEnumerable().ToImmutableDictionary(d => d.Id, d => (d.ToRecord(), d.SecretHash)));
    }

    /// <summary>A state of both lists.</summary>
    private sealed record Known(ImmutableDictionary<Guid, Person> People, ImmutableDictionary<Guid, (ShopDevice Device, string SecretHash)> Devices);
}
