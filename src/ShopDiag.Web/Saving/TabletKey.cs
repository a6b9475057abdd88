using System.Security.Cryptography;
using Microsoft.AspNetCore.DataProtection;
using ShopDiag.Web.People;

namespace ShopDiag.Web.Saving;

/// <summary>
/// The key with which a tablet seals the personal entries of its journal. The tablet keeps it only within a cookie that scripts cannot see and that only this server can open, so that storage and
/// cookies of a lost tablet give nothing away. Each person has a key of their own on it.
/// </summary>
public static class TabletKey
{
    private const string Cookie = "shop-tablet";
    private const int Bytes = 32;

    private static readonly TimeSpan Kept = TimeSpan.FromDays(365);

    /// <summary>Adds <c>GET /tablet-key</c>: 32 bytes in Base64, the same for a tablet as long as it keeps its cookie.</summary>
    public static void MapTabletKey(this IEndpointRouteBuilder app) => app.MapGet("/tablet-key", (HttpContext http, IDataProtectionProvider protection) =>
    {
        // No page from elsewhere has any use for it; it could not read the answer either.
        if (http.Request.Headers["Sec-Fetch-Site"] is var from && from.Count > 0 && from != "same-origin")
        {
            return Results.StatusCode(StatusCodes.Status403Forbidden);
        }

        var protector = protection.CreateProtector("ShopDiag.TabletKey.v1");
        var key = Read(http.Request.Cookies[Cookie], protector);
        if (key is null)
        {
            key = RandomNumberGenerator.GetBytes(Bytes);
            http.Response.Cookies.Append(Cookie, Convert.ToBase64String(protector.Protect(key)), new()
            {
                HttpOnly = true, Secure = http.Request.IsHttps, SameSite = SameSiteMode.Strict, MaxAge = Kept, IsEssential = true, Path = "/tablet-key",
            });
        }

        http.Response.Headers.CacheControl = "no-store";
        // Nobody but who typed it can have it opened.
        var own = HMACSHA256.HashData(key, Session.PersonOf(http.User)?.ToByteArray() ?? []);
        return Results.Text(Convert.ToBase64String(own));
    });

    private static byte[]? Read(string? cookie, IDataProtector protector)
    {
        try
        {
            return cookie is null ? null : protector.Unprotect(Convert.FromBase64String(cookie)) is { Length: Bytes } key ? key : null;
        }
        catch (Exception e) when (e is FormatException or CryptographicException)
        {
            // Made up, or sealed by a server whose keys are gone.
            return null;
        }
    }
}
