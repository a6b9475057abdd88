using System.Net;
using Microsoft.AspNetCore.Server.Kestrel.Core;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Options;
using ShopDiag.Storage.People;
using ShopDiag.Web.Tests.Integration;

namespace ShopDiag.Web.Tests.Hostile;

/// <summary>A page from elsewhere, open in the same browser, and a program that sends what no browser would.</summary>
public sealed class ForeignPagesTests(RunningShop shop) : IClassFixture<RunningShop>
{
    public static TheoryData<string, string> Changes => new()
    {
        { "POST", "/shop/prices.csv" },
        { "PUT", "/orders/1001/photos/6f9619ff-8b86-4d01-b42d-00cf4fc964ff?test=borescope&at=c1" },
        { "PUT", "/orders/1001/recordings/6f9619ff-8b86-4d01-b42d-00cf4fc964ff?kind=wav" },
        { "PUT", "/waveforms/6f9619ff-8b86-4d01-b42d-00cf4fc964ff" },
        { "POST", "/_blazor/negotiate?negotiateVersion=1" },
        { "GET", "/_blazor?id=x" },
        { "POST", "/orders" },
        { "DELETE", "/orders/1001" },
    };

    [Theory]
    [MemberData(nameof(Changes))]
    public async Task It_cannot_change_anything_or_open_a_circuit(string method, string path)
    {
        foreach (var origin in new[] { "https://elsewhere.example", "null", "http://127.0.0.1.elsewhere.example", $"http://elsewhere.example:{shop.Client.BaseAddress!.Port}", $"http://127.0.0.1:{shop.Client.BaseAddress.Port + 1}" })
        {
            using var request = new HttpRequestMessage(new HttpMethod(method), new Uri(path, UriKind.Relative));
            request.Headers.TryAddWithoutValidation("Origin", origin);
            using var answer = await shop.Client.SendAsync(request);
            Assert.Equal(HttpStatusCode.Forbidden, answer.StatusCode);
        }
    }

    [Theory]
    [MemberData(nameof(Changes))]
    public async Task Nobody_tells_its_browser_that_it_may(string method, string path)
    {
        using var request = new HttpRequestMessage(HttpMethod.Options, new Uri(path, UriKind.Relative));
        request.Headers.TryAddWithoutValidation("Origin", "https://elsewhere.example");
        request.Headers.TryAddWithoutValidation("Access-Control-Request-Method", method);
        using var answer = await shop.Client.SendAsync(request);
        Assert.DoesNotContain(answer.Headers, h => h.Key.StartsWith("Access-Control", StringComparison.OrdinalIgnoreCase));
    }

    [Fact]
    public async Task A_page_of_our_own_may()
    {
        using var request = new HttpRequestMessage(HttpMethod.Post, new Uri("/_blazor/negotiate?negotiateVersion=1", UriKind.Relative));
        request.Headers.TryAddWithoutValidation("Origin", shop.Client.BaseAddress!.GetLeftPart(UriPartial.Authority));
        using var answer = await shop.Client.SendAsync(request);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
    }

    [Theory]
    [InlineData("cross-site")]
    [InlineData("same-site")]
    public async Task The_tablets_key_is_not_given_to_it(string from)
    {
        using var request = new HttpRequestMessage(HttpMethod.Get, new Uri("/tablet-key", UriKind.Relative));
        request.Headers.TryAddWithoutValidation("Sec-Fetch-Site", from);
        using var answer = await shop.Client.SendAsync(request);
        Assert.Equal(HttpStatusCode.Forbidden, answer.StatusCode);
    }

    [Fact]
    public async Task A_tablet_gets_the_same_key_again_by_a_cookie_that_says_nothing()
    {
        using var tablet = Tablet(null);
        using var first = await tablet.GetAsync(new Uri("/tablet-key", UriKind.Relative));
        var key = await first.Content.ReadAsStringAsync();
        var cookie = Assert.Single(first.Headers.GetValues("Set-Cookie"));
        Assert.Contains("httponly", cookie, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("samesite=strict", cookie, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain(key, Uri.UnescapeDataString(cookie), StringComparison.Ordinal);
        Assert.True(first.Headers.CacheControl!.NoStore);
        Assert.Equal(32, Convert.FromBase64String(key).Length);
        Assert.Equal(key, await KeyAsync(cookie.Split(';')[0].Split('=', 2)[1]));
        Assert.NotEqual(key, await KeyAsync("made-up"));
        Assert.NotEqual(key, await KeyAsync(null));

        // Somebody else on the same tablet has a key of his own.
        using var other = await shop.BrowserOfAsync(PersonRole.Technician);
        using var request = new HttpRequestMessage(HttpMethod.Get, new Uri("/tablet-key", UriKind.Relative)) { Headers = { { "Cookie", cookie.Split(';')[0] } } };
        using var answer = await other.SendAsync(request);
        Assert.NotEqual(key, await answer.Content.ReadAsStringAsync());

        async Task<string> KeyAsync(string? with)
        {
            using var again = Tablet(with);
            return await again.GetStringAsync(new Uri("/tablet-key", UriKind.Relative));
        }

        HttpClient Tablet(string? with)
        {
            var jar = new CookieContainer();
            foreach (var session in shop.Cookies.GetAllCookies().Where(c => c.Name != "shop-tablet"))
            {
                jar.Add(session);
            }

            if (with is not null)
            {
                jar.Add(shop.Client.BaseAddress!, new Cookie("shop-tablet", with, "/tablet-key"));
            }

            return shop.NewBrowser(jar);
        }
    }

    [Fact]
    public void A_body_is_a_megabyte_at_most_where_nothing_else_is_said() =>
        Assert.Equal(1_000_000, shop.Services.GetRequiredService<IOptions<KestrelServerOptions>>().Value.Limits.MaxRequestBodySize);

    [Theory]
    [InlineData("/orders/99999999999999999999")]
    [InlineData("/orders/-1")]
    [InlineData("/orders/0/customer.pdf")]
    [InlineData("/orders/2147483648/customer.pdf")]
    [InlineData("/owner/comebacks.csv?from=9999-99-99")]
    [InlineData("/owner/comebacks.csv?from=0001-01-01&to=9999-12-31&by=%00")]
    [InlineData("/orders/1001/customer.pdf?paper=a0")]
    [InlineData("/find?q=%00%ff%fe")]
    public async Task An_absurd_address_is_answered_and_breaks_nothing(string path)
    {
        using var answer = await shop.Client.GetAsync(new Uri(path, UriKind.Relative));
        Assert.InRange((int)answer.StatusCode, 200, 499);
    }
}
