using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using Microsoft.AspNetCore.DataProtection;
using ShopDiag.Storage.People;

namespace ShopDiag.Web.People;

/// <summary>Devices of the shop, on which a PIN is enough. Each holds a secret in a cookie of its own; the database has only its hash, so that the owner can forget a device.</summary>
public sealed class Devices(PeopleDirectory people, IDataProtectionProvider protection)
{
    /// <summary>Name of the cookie.</summary>
    public const string Cookie = "shopdiag.device";

    // Browsers keep a cookie for 400 days at most (RFC 6265bis); each sign-in begins them anew.
    private static readonly TimeSpan Kept = TimeSpan.FromDays(400);

    private readonly IDataProtector _protector = protection.CreateProtector("ShopDiag.Device.v1");

    /// <summary>The device that a request comes from; null for one that is not known.</summary>
    public ShopDevice? Of(HttpContext http)
    {
        ArgumentNullException.ThrowIfNull(http);
        return Read(http) is ({ } id, { } secret) ? people.FindDevice(id, Hash(secret)) : null;
    }

    /// <summary>Remembers the device of a request, under a name by which the owner can tell it from others.</summary>
    public async Task<ShopDevice> RememberAsync(HttpContext http, string name, Actor actor)
    {
        ArgumentNullException.ThrowIfNull(http);
        if (Of(http) is { } known)
        {
            Send(http, http.Request.Cookies[Cookie]!);
            return known;
        }

        var (id, secret) = (Guid.CreateVersion7(), PeopleDirectory.NewSecret());
        Send(http, _protector.Protect($"{id}:{secret}"));
        return await people.RememberDeviceAsync(id, name.Trim().Length > 0 ? name : NextName(), Hash(secret), actor);
    }

    private static string Hash(string secret) => Convert.ToHexString(SHA256.HashData(Encoding.UTF8.GetBytes(secret)));

    private static void Send(HttpContext http, string value) => http.Response.Cookies.Append(Cookie, value, new CookieOptions
    {
        HttpOnly = true, SameSite = SameSiteMode.Strict, Secure = http.Request.IsHttps, IsEssential = true, MaxAge = Kept,
    });

    private string NextName() => string.Create(CultureInfo.InvariantCulture, $"Tablet {people.Devices.Length + 1}");

    private (Guid? Id, string? Secret) Read(HttpContext http)
    {
        if (http.Request.Cookies[Cookie] is not { Length: > 0 } value)
        {
            return default;
        }

        try
        {
            return _protector.Unprotect(value).Split(':') is [var id, var secret] && Guid.TryParse(id, out var key) ? (key, secret) : default;
        }
        catch (CryptographicException)
        {
            // Made up, or written with the keys of another data folder.
            return default;
        }
    }
}
