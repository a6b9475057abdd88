using System.Collections.Immutable;
using Microsoft.EntityFrameworkCore;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Rows;
using ShopDiag.Storage.Writing;

namespace ShopDiag.Storage.People;

/// <summary>
/// What an owner does with the people of the shop, and everybody with their own password and PIN. Hashes come in, never a password. Whatever makes an old sign-in invalid ends every open page
/// of that person. The shop keeps at least one owner who can sign in.
/// </summary>
public sealed class PeopleStore
{
    private const int ShortestLogin = 2;
    private readonly ShopWriter _writer;
    private readonly PeopleDirectory _directory;

    internal PeopleStore(ShopWriter writer, PeopleDirectory directory) => (_writer, _directory) = (writer, directory);

    /// <summary>Adds somebody with a password that the owner hands over and that has to be changed at the first sign-in. <see cref="SaveResult.Current"/> is the sign-in name.</summary>
    public Task<SaveResult> AddAsync(Guid id, string login, string name, PersonRole role, string passwordHash, CancellationToken cancel = default)
    {
        var (tidyLogin, tidyName) = (Person.TidyLogin(login), PlainText.Line(name));
        return RunAsync(
            Permission.ManagePeople,
            async write =>
            {
                if (Fault(tidyLogin, tidyName) is { } fault)
                {
                    return Refused(fault);
                }

                if (await write.Db.People.AnyAsync(p => p.Id == id).ConfigureAwait(false))
                {
                    return new(SaveOutcome.AlreadySaved, tidyLogin);
                }

                if (await write.Db.People.AnyAsync(p => p.Login == tidyLogin).ConfigureAwait(false))
                {
                    return Refused("Somebody signs in with that name already. Choose another.");
                }

                write.Db.People.Add(PersonRow.Of(new()
                {
                    Id = id, Login = tidyLogin, Name = tidyName, Role = role, PasswordHash = passwordHash, MustChangePassword = true, Stamp = PeopleDirectory.NewSecret(), CreatedAt = write.Now,
                    Version = Guid.NewGuid(),
                }));
                write.Record("add person", after: $"{tidyName}, {role}");
                return new(SaveOutcome.Saved, tidyLogin);
            },
            cancel);
    }

    /// <summary>Changes what somebody may do; they sign in anew.</summary>
    public Task<SaveResult> SetRoleAsync(Guid id, PersonRole role, CancellationToken cancel = default) =>
        ChangeAsync(Permission.ManagePeople, id, $"set role {role}", p => SignedOut(p) with { Role = role }, cancel);

    /// <summary>Takes somebody's way in away, or gives it back. Records keep their name.</summary>
    public Task<SaveResult> SetActiveAsync(Guid id, bool active, CancellationToken cancel = default) =>
        ChangeAsync(Permission.ManagePeople, id, active ? "let back in" : "shut out", p => SignedOut(p) with { IsActive = active }, cancel);

    /// <summary>Gives somebody another password, to be changed at the next sign-in, lifts what wrong ones have blocked, and takes their passkeys away: who lost a device asks for this.</summary>
    public Task<SaveResult> ResetPasswordAsync(Guid id, string passwordHash, CancellationToken cancel = default) => ChangeAsync(
        Permission.ManagePeople, id, "reset password", p => SignedOut(Unblocked(p)) with { PasswordHash = passwordHash, MustChangePassword = true, Passkeys = [] }, cancel);

    /// <summary>Takes somebody's PIN away; they set another one themselves.</summary>
    public Task<SaveResult> RemovePinAsync(Guid id, CancellationToken cancel = default) =>
        ChangeAsync(Permission.ManagePeople, id, "remove PIN", p => Unblocked(p) with { PinHash = "" }, cancel);

    /// <summary>Ends every sign-in of somebody, on all devices.</summary>
    public Task<SaveResult> SignOutEverywhereAsync(Guid id, CancellationToken cancel = default) => ChangeAsync(Permission.ManagePeople, id, "sign out everywhere", SignedOut, cancel);

    /// <summary>Ends every sign-in of whoever acts.</summary>
    public Task<SaveResult> SignMyselfOutEverywhereAsync(CancellationToken cancel = default) => ChangeAsync(Permission.OwnSignIn, null, "sign out everywhere", SignedOut, cancel);

    /// <summary>Changes the password of whoever acts. Every sign-in made with the old one ends.</summary>
    public Task<SaveResult> SetMyPasswordAsync(string passwordHash, CancellationToken cancel = default) => ChangeAsync(
        Permission.OwnSignIn, null, "change password", p => SignedOut(Unblocked(p)) with { PasswordHash = passwordHash, MustChangePassword = false }, cancel);

    /// <summary>Sets the PIN of whoever acts; empty takes it away.</summary>
    public Task<SaveResult> SetMyPinAsync(string pinHash, CancellationToken cancel = default) => ChangeAsync(
        Permission.OwnSignIn, null, pinHash.Length > 0 ? "set PIN" : "remove PIN", p => p with { PinHash = pinHash, PinFailures = 0, PinBlockedUntil = null }, cancel);

    /// <summary>Adds a passkey of whoever acts.</summary>
    public Task<SaveResult> AddMyPasskeyAsync(Passkey passkey, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(passkey);
        return RunAsync(
            Permission.OwnSignIn,
            async write =>
            {
                if (write.Actor.Way == SignInWay.Pin)
                {
                    return Refused("A PIN is not enough for this. Sign in with your password.");
                }

                if (await write.Db.People.SingleOrDefaultAsync(p => p.Id == write.Actor.PersonId).ConfigureAwait(false) is not { } row)
                {
                    return Refused("There is no such person.");
                }

                var me = row.ToRecord();
                if (me.Passkeys.Length >= Passkey.Most)
                {
                    return Refused($"There are {Passkey.Most} passkeys already. Remove one that is not used any more.");
                }

                var named = passkey with { Name = PlainText.Line(passkey.Name), CreatedAt = write.Now };
                write.Db.Entry(row).CurrentValues.SetValues(PersonRow.Of(me with { Passkeys = [.. me.Passkeys, named], Version = Guid.NewGuid() }));
                write.Record("add passkey", after: $"{me.Name}, {named.Name}");
                return new(SaveOutcome.Saved, "");
            },
            cancel);
    }

    /// <summary>Takes a passkey of whoever acts away.</summary>
    public Task<SaveResult> RemoveMyPasskeyAsync(ImmutableArray<byte> credentialId, CancellationToken cancel = default) => ChangeAsync(
        Permission.OwnSignIn, null, "remove passkey", p => p with { Passkeys = p.Passkeys.RemoveAll(k => k.Is(credentialId.AsSpan())) }, cancel);

    /// <summary>Forgets a device: a PIN is not enough on it any more.</summary>
    public Task<SaveResult> ForgetDeviceAsync(Guid id, CancellationToken cancel = default) => RunAsync(
        Permission.ManagePeople,
        async write =>
        {
            if (await write.Db.Devices.SingleOrDefaultAsync(d => d.Id == id).ConfigureAwait(false) is not { } row)
            {
                return Refused("This device is not known.");
            }

            row.ForgottenAt ??= write.Now;
            write.Record("forget device", row.Name);
            return new(SaveOutcome.Saved, "");
        },
        cancel);

    /// <summary>What is wrong with a sign-in name and a name; null when nothing is.</summary>
    public static string? Fault(string login, string name) => (Person.TidyLogin(login), PlainText.Line(name)) switch
    {
        ({ Length: < ShortestLogin or > Person.NameLength }, _) => $"A sign-in name has {ShortestLogin} to {Person.NameLength} characters.",
        (_, { Length: 0 or > Person.NameLength }) => $"A name has 1 to {Person.NameLength} characters.",
        _ => null,
    };

    private static Person SignedOut(Person person) => person with { Stamp = PeopleDirectory.NewSecret() };

    private static Person Unblocked(Person person) => person with { PasswordFailures = 0, PasswordBlockedUntil = null, PinFailures = 0, PinBlockedUntil = null };

    private static SaveResult Refused(string message) => new(SaveOutcome.Refused, "", message);

    /// <summary>Changes a person; null is whoever acts.</summary>
    private Task<SaveResult> ChangeAsync(Permission needs, Guid? id, string what, Func<Person, Person> change, CancellationToken cancel) => RunAsync(
        needs,
        async write =>
        {
            var wanted = id ?? write.Actor.PersonId;
            if (await write.Db.People.SingleOrDefaultAsync(p => p.Id == wanted).ConfigureAwait(false) is not { } row)
            {
                return Refused("There is no such person.");
            }

            var changed = change(row.ToRecord()) with { Version = Guid.NewGuid() };
            if (changed is not { IsActive: true, Role: PersonRole.Owner }
                && !await write.Db.People.AnyAsync(p => p.Id != row.Id && p.IsActive && p.Role == PersonRole.Owner).ConfigureAwait(false))
            {
                return Refused("The shop needs an owner who can sign in. Make somebody else an owner first.");
            }

            write.Db.Entry(row).CurrentValues.SetValues(PersonRow.Of(changed));
            write.Record(what, after: changed.Name);
            return new(SaveOutcome.Saved, "");
        },
        cancel);

    private async Task<SaveResult> RunAsync(Permission needs, Func<WriteScope, Task<SaveResult>> command, CancellationToken cancel)
    {
        var result = await _writer.SaveAsync(needs, command, cancel).ConfigureAwait(false);
        _directory.Refresh();
        return result;
    }
}
