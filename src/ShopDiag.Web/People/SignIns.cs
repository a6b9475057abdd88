using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Identity;
using ShopDiag.Storage.People;

namespace ShopDiag.Web.People;

/// <summary>In and out: with a password, with a passkey, with a PIN on a device of the shop, out. Every try is entered in the record; a secret never is.</summary>
public sealed partial class SignIns(
    UserManager<Account> users, SignInManager<Account> manager, PeopleDirectory people, Passwords passwords, Pins pins, Devices devices, TimeProvider time, ILogger<SignIns> log)
{
    /// <summary>Wrong PINs after which only the password helps.</summary>
    public const int MostPinTries = 5;

    // One answer for an unknown name, a wrong password, and too many wrong ones: the answer must not tell who works here.
    private const string Wrong = "The name or the password is wrong. After five wrong passwords none is taken for five minutes.";

    /// <summary>What is said where a passkey's answer comes without its question: see <see cref="UnderWayAsync"/>.</summary>
    public const string TooLate = "This took too long, or was begun on another page. Try once more.";

    // One try at a time: two that run together would each count as the first.
    private static readonly SemaphoreSlim Gate = new(1);

    /// <summary>Signs in with a password. Null, or why not.</summary>
    /// <param name="http">The request.</param>
    /// <param name="login">The sign-in name.</param>
    /// <param name="password">The password.</param>
    /// <param name="remember">True to let people switch by PIN on this device from now on.</param>
    public async Task<string?> ByPasswordAsync(HttpContext http, string login, string password, bool remember)
    {
        ArgumentNullException.ThrowIfNull(password);
        await Gate.WaitAsync(http.RequestAborted);
        try
        {
            if (password.Length > Passwords.Longest || await users.FindByNameAsync(login) is not { Person.IsActive: true } account)
            {
                passwords.WasteTime("nobody");
                await FailedAsync("wrong password", null);
                return Wrong;
            }

            var tried = await manager.CheckPasswordSignInAsync(account, password, lockoutOnFailure: true);
            if (!tried.Succeeded)
            {
                await FailedAsync(tried.IsLockedOut ? "password blocked" : "wrong password", account.Person);
                return Wrong;
            }

            var device = remember ? await devices.RememberAsync(http, "", Actor.Of(account.Person, SignInWay.Password, "")) : devices.Of(http);
            await BeginAsync(http, account.Person.Id, SignInWay.Password, device);
            return null;
        }
        finally
        {
            Gate.Release();
        }
    }

    /// <summary>Signs in with a PIN on a device of the shop. Null, or why not.</summary>
    public async Task<string?> ByPinAsync(HttpContext http, Guid personId, string pin)
    {
        await Gate.WaitAsync(http.RequestAborted);
        try
        {
            if (devices.Of(http) is not { } device)
            {
                return "This device is not known here. Sign in with your password.";
            }

            if (people.Find(personId) is not { IsActive: true, PinHash.Length: > 0 } person)
            {
                return "Sign in with your password.";
            }

            if (Blocked(person) is { } blocked)
            {
                return blocked;
            }

            if (pins.IsRight(person, pin))
            {
                await BeginAsync(http, person.Id, SignInWay.Pin, device);
                return null;
            }

            var after = (await people.ChangeAsync(person.Id, Failed, Actor.Nobody, null))!;
            await FailedAsync(after.PinFailures >= MostPinTries ? "PIN blocked" : "wrong PIN", after, device.Name);
            return Blocked(after) ?? "That is not the PIN.";
        }
        finally
        {
            Gate.Release();
        }
    }

    /// <summary>Signs in with a passkey. Null, or why not.</summary>
    /// <param name="http">The request.</param>
    /// <param name="credential">What the browser answered to the options it was given (W3C Web Authentication, JSON).</param>
    public async Task<string?> ByPasskeyAsync(HttpContext http, string credential)
    {
        if (await UnderWayAsync(() => manager.PerformPasskeyAssertionAsync(credential)) is not { } tried)
        {
            return TooLate;
        }

        if (!tried.Succeeded || tried.User.Person is not { IsActive: true } person)
        {
            await FailedAsync("wrong passkey", tried.User?.Person);
            return "This passkey is not known here any more. Sign in with your password.";
        }

        // The device's count goes on, so that a copy of it would be noticed.
        var used = AccountStore.Keep(tried.Passkey);
        await people.ChangeAsync(
            person.Id,
            (p, now) => p with { Passkeys = [.. p.Passkeys.Select(k => k.Is(used.CredentialId.AsSpan()) ? k with { SignCount = used.SignCount, IsBackedUp = used.IsBackedUp, LastUsedAt = now } : k)] },
            Actor.Program,
            null);
        await BeginAsync(http, person.Id, SignInWay.Passkey);
        return null;
    }

    /// <summary>Checks a passkey's answer; null where no options were given out for it, or too long ago, which Identity tells by an exception.</summary>
    public static async Task<T?> UnderWayAsync<T>(Func<Task<T>> check)
        where T : class
    {
        ArgumentNullException.ThrowIfNull(check);
        try
        {
            return await check();
        }
        catch (InvalidOperationException)
        {
            return null;
        }
    }

    /// <summary>Asks somebody who is signed in for their password again. Null, or why not; wrong ones count like those of a sign-in.</summary>
    public async Task<string?> ConfirmAsync(Guid personId, string password)
    {
        ArgumentNullException.ThrowIfNull(password);
        await Gate.WaitAsync();
        try
        {
            if (password.Length > Passwords.Longest || await users.FindByIdAsync(personId.ToString()) is not { } account)
            {
                return "That is not your password.";
            }

            var tried = await manager.CheckPasswordSignInAsync(account, password, lockoutOnFailure: true);
            if (tried.Succeeded)
            {
                return null;
            }

            await FailedAsync("wrong password", account.Person);
            return "That is not your password. After five wrong ones none is taken for five minutes.";
        }
        finally
        {
            Gate.Release();
        }
    }

    /// <summary>Begins a sign-in without asking: of the owner who has just set the shop up, and of somebody whose password has just changed.</summary>
    public Task BeginAsync(HttpContext http, Guid personId, SignInWay way) => BeginAsync(http, personId, way, devices.Of(http));

    /// <summary>Ends the sign-in of this browser.</summary>
    public async Task EndAsync(HttpContext http)
    {
        ArgumentNullException.ThrowIfNull(http);
        if (Session.ActorOf(http.User, people, time.GetUtcNow()) is { PersonId: not null } actor)
        {
            await people.RecordAsync(actor, "sign out", actor.Name);
        }

        await http.SignOutAsync(IdentityConstants.ApplicationScheme);
    }

    private async Task BeginAsync(HttpContext http, Guid personId, SignInWay way, ShopDevice? device)
    {
        var person = (await people.ChangeAsync(
            personId,
            (p, now) => way != SignInWay.Pin ? p with { LastSignInAt = now, PinFailures = 0, PinBlockedUntil = null } : p with { LastSignInAt = now, PinFailures = 0 },
            Actor.Program,
            null))!;
        var name = device?.Name ?? "";
        // A new sign-in, never the old one carried on: whoever knew the old cookie must not share the new person's.
        await http.SignInAsync(IdentityConstants.ApplicationScheme, Session.Begin(person, way, name, time.GetUtcNow()));
        await people.RecordAsync(Actor.Of(person, way, name), "sign in", person.Name);
        if (device is not null)
        {
            await people.UsedDeviceAsync(device.Id);
        }
    }

    // The log has the key only: a name is for the record, which stays in the shop.
    private async Task FailedAsync(string what, Person? person, string device = "")
    {
        Refused(what, person?.Id);
        await people.RecordAsync(Actor.Nobody, what, string.Join(", ", new[] { person?.Name, device }.Where(w => !string.IsNullOrEmpty(w))));
    }

    private static Person Failed(Person person, DateTime now)
    {
        var failures = person.PinFailures + 1;
        return person with { PinFailures = failures, PinBlockedUntil = now + failures switch { < 3 => TimeSpan.Zero, 3 => TimeSpan.FromSeconds(10), _ => TimeSpan.FromMinutes(1) } };
    }

    private string? Blocked(Person person)
    {
        if (person.PinFailures >= MostPinTries)
        {
            return "Too many wrong PINs. Sign in with your password; after that the PIN is good again.";
        }

        var wait = (person.PinBlockedUntil - time.GetUtcNow().UtcDateTime)?.TotalSeconds ?? 0;
        return wait > 0 ? $"That was wrong several times. Wait {Math.Ceiling(wait):0} seconds before the next try." : null;
    }

    [LoggerMessage(Level = LogLevel.Warning, Message = "Sign-in refused: {What} {Person}")]
    private partial void Refused(string what, Guid? person);
}
