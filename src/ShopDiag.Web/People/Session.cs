using System.Globalization;
using System.Security.Claims;
using Microsoft.AspNetCore.Identity;
using ShopDiag.Storage.People;

namespace ShopDiag.Web.People;

/// <summary>What a sign-in holds: who, since when, how, on which device, and the stamp that ends it when it changes.</summary>
public static class Session
{
    /// <summary>Unused for so long, a sign-in is over: a long shift.</summary>
    public static readonly TimeSpan Idle = TimeSpan.FromHours(12);

    /// <summary>However much it is used, a sign-in is over after so long.</summary>
    public static readonly TimeSpan Longest = TimeSpan.FromDays(7);

    private const string Stamp = "stamp";
    private const string Way = "way";
    private const string Since = "since";
    private const string Device = "device";

    /// <summary>The claims of somebody who signs in now.</summary>
    public static ClaimsPrincipal Begin(Person person, SignInWay way, string device, DateTimeOffset now)
    {
        ArgumentNullException.ThrowIfNull(person);
        return new(new ClaimsIdentity(
            [
                new(ClaimTypes.NameIdentifier, person.Id.ToString()), new(ClaimTypes.Name, person.Name), new(Stamp, person.Stamp), new(Way, way.ToString()), new(Device, device),
                new(Since, now.ToUnixTimeSeconds().ToString(CultureInfo.InvariantCulture)),
            ],
            IdentityConstants.ApplicationScheme));
    }

    /// <summary>Whose sign-in it is; null for none.</summary>
    public static Guid? PersonOf(ClaimsPrincipal? principal) =>
        principal?.Identity?.IsAuthenticated == true && Guid.TryParse(principal.FindFirstValue(ClaimTypes.NameIdentifier), out var id) ? id : null;

    /// <summary>
    /// Who acts by a sign-in, as the shop knows them now. Nobody for somebody who has left, whose sign-ins were ended, or who signed in too long ago.
    /// </summary>
    public static Actor ActorOf(ClaimsPrincipal? principal, PeopleDirectory people, DateTimeOffset now)
    {
        ArgumentNullException.ThrowIfNull(people);
        return PersonOf(principal) is { } id && people.Find(id) is { IsActive: true } person
            && principal!.FindFirstValue(Stamp) == person.Stamp
            && Enum.TryParse<SignInWay>(principal!.FindFirstValue(Way), out var way) && way != SignInWay.None
            && long.TryParse(principal!.FindFirstValue(Since), NumberStyles.None, CultureInfo.InvariantCulture, out var since)
            && now - DateTimeOffset.FromUnixTimeSeconds(since) < Longest
                ? Actor.Of(person, way, principal!.FindFirstValue(Device) ?? "")
                : Actor.Nobody;
    }
}
