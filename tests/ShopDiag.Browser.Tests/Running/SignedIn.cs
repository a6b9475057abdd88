using System.Collections.Concurrent;
using System.Net;
using System.Text.RegularExpressions;
using Microsoft.Playwright;
using Cookie = Microsoft.Playwright.Cookie;

namespace ShopDiag.Browser.Tests.Running;

/// <summary>
/// Somebody's sign-in on a server of the demo shop, made through the form of the sign-in page once and given to each tab: a shop limits how often anybody can try a minute.
/// </summary>
internal static partial class SignedIn
{
    /// <summary>The owner of the demo shop.</summary>
    public const string Owner = "nora";

    /// <summary>The password of everybody in the demo shop.</summary>
    public const string Password = "lift-two-wobbles";

    private static readonly ConcurrentDictionary<(string Url, string Login), Lazy<Task<Cookie[]>>> Known = new();

    /// <summary>Gives a context the cookies of somebody; none on a server where nobody works yet.</summary>
    public static async Task AddAsync(IBrowserContext context, string url, string login)
    {
        var cookies = await CookiesAsync(url, login);
        await context.AddCookiesAsync(cookies.Select(c => new Cookie { Name = c.Name, Value = c.Value, Url = url, HttpOnly = true, SameSite = SameSiteAttribute.Strict }));
    }

    /// <summary>The same without a browser.</summary>
    public static async Task<HttpClient> ClientAsync(string url, string login)
    {
        var cookies = await CookiesAsync(url, login);
        return new HttpClient(new HttpClientHandler { UseCookies = false, AllowAutoRedirect = false }) { BaseAddress = new Uri(url), DefaultRequestHeaders = { { "Cookie", Header(cookies) } } };
    }

    private static async Task<Cookie[]> CookiesAsync(string url, string login)
    {
        // The server itself, whatever name or line the tab reaches it by.
        var server = new UriBuilder(url) { Host = "127.0.0.1" }.Uri.AbsoluteUri;
        var cookies = await Known.GetOrAdd((server, login), key => new(() => SignInAsync(key.Url, key.Login))).Value;
        if (!await AreGoodAsync(server, cookies))
        {
            // Another server on the same port.
            Known[(server, login)] = new(() => SignInAsync(server, login));
            cookies = await Known[(server, login)].Value;
        }

        return cookies;
    }

    private static string Header(Cookie[] cookies) => string.Join("; ", cookies.Select(c => $"{c.Name}={c.Value}"));

    private static async Task<bool> AreGoodAsync(string server, Cookie[] cookies)
    {
        if (cookies.Length == 0)
        {
            return true;
        }

        using var client = new HttpClient(new HttpClientHandler { UseCookies = false, AllowAutoRedirect = false });
        using var request = new HttpRequestMessage(HttpMethod.Get, server + "orders") { Headers = { { "Accept", "text/html" }, { "Cookie", Header(cookies) } } };
        using var answer = await client.SendAsync(request);
        return answer.StatusCode == HttpStatusCode.OK;
    }

    private static async Task<Cookie[]> SignInAsync(string server, string login)
    {
        var jar = new CookieContainer();
        using var client = new HttpClient(new HttpClientHandler { CookieContainer = jar, AllowAutoRedirect = false }) { BaseAddress = new(server) };
        using var page = await client.GetAsync(new Uri("sign-in", UriKind.Relative));
        if (page.StatusCode == HttpStatusCode.Redirect)
        {
            return [];
        }

        var token = WebUtility.HtmlDecode(Token().Match(await page.Content.ReadAsStringAsync()).Groups[1].Value);
        using var form = new FormUrlEncodedContent([new("_handler", "sign-in"), new("__RequestVerificationToken", token), new("Login", login), new("Password", Password)]);
        using var answer = await client.PostAsync(new Uri("sign-in", UriKind.Relative), form);
        return answer.StatusCode == HttpStatusCode.Redirect
            ? [.. jar.GetAllCookies().Select(c => new Cookie { Name = c.Name, Value = c.Value })]
            : throw new InvalidOperationException($"{login} could not sign in at {server}: {answer.StatusCode}");
    }

    [GeneratedRegex(@"name=""__RequestVerificationToken"" value=""([^""]+)""")]
    private static partial Regex Token();
}
