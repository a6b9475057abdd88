using System.Net;
using System.Reflection;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using ShopDiag.Storage.People;
using ShopDiag.Storage.Programs;
using ShopDiag.Web.People;
using ShopDiag.Web.Tests.Api;
using ShopDiag.Web.Tests.Integration;

namespace ShopDiag.Web.Tests.People;

/// <summary>Every page and every endpoint, against nobody and every role, as the table in DEVELOPERS.md says.</summary>
public sealed class AccessTableTests(RunningShop shop) : IClassFixture<RunningShop>
{
    private static readonly string[] Roles = ["technician", "advisor", "owner"];

    [Fact]
    public void Every_page_and_every_endpoint_has_a_row_and_every_row_leads_somewhere()
    {
        // The certificate is served beside https only.
        var there = Pages().Select(p => $"GET {p.Template}").Concat(Endpoints()).Append("GET /shop-certificate.crt").Order(StringComparer.Ordinal).Distinct();
        Assert.Equal(there, AccessTable.Addresses.Select(a => a.Address).Order(StringComparer.Ordinal));
    }

    [Fact]
    public void Every_page_says_itself_who_may_see_it() =>
        Assert.All(Pages(), p => Assert.True(p.Page.GetCustomAttribute<NeedsAttribute>() is not null || p.Page.GetCustomAttribute<AllowAnonymousAttribute>() is not null, $"{p.Page.Name} says nothing"));

    [Fact]
    public void Going_from_page_to_page_within_the_program_asks_the_same_as_the_table_says()
    {
        foreach (var (template, page) in Pages())
        {
            var who = AccessTable.Addresses.Single(a => a.Address == $"GET {template}").Who;
            var allowed = page.GetCustomAttribute<NeedsAttribute>() is { } needs ? string.Join(", ", Roles.Where((_, i) => Permissions.Has((PersonRole)i, needs.Permission))) : "everybody";
            Assert.Equal((template, who), (template, allowed));
        }
    }

    [Fact]
    public void The_permissions_are_those_of_the_table()
    {
        Assert.Equal(Enum.GetNames<Permission>(), AccessTable.Permissions.Select(p => p.Permission));
        Assert.All(AccessTable.Permissions, row =>
        {
            var permission = Enum.Parse<Permission>(row.Permission);
            var roles = string.Join(", ", Roles.Where((_, i) => Permissions.Has((PersonRole)i, permission)));
            Assert.Equal(row.Who, Permissions.NeedsPassword(permission) ? $"{roles}, with the password" : roles);
        });
    }

    [Fact]
    public async Task Nobody_and_every_role_get_what_the_table_gives_them_and_nothing_else()
    {
        using var nobody = shop.NewBrowser();
        using var technician = await shop.BrowserOfAsync(PersonRole.Technician);
        using var advisor = await shop.BrowserOfAsync(PersonRole.Advisor);
        using var owner = await shop.BrowserOfAsync(PersonRole.Owner);
        (string Role, HttpClient Browser)[] all = [("nobody", nobody), ("technician", technician), ("advisor", advisor), ("owner", owner)];
        var wrong = new List<string>();
        foreach (var (address, who) in AccessTable.Addresses.Where(a => a.Address is not "GET /shop-certificate.crt" and not "POST /sign-out"))
        {
            foreach (var (role, browser) in all)
            {
                var got = await TryAsync(browser, address);
                var may = who == "everybody" || who.Split(", ").Contains(role);
                // Nobody has a token in a browser, and a cookie counts for nothing there.
                var byToken = who.StartsWith("a token for ", StringComparison.Ordinal);
                // Nobody is led to the sign-in by the bar of the browser, and told a number elsewhere; others are refused.
                if (may ? got is HttpStatusCode.Unauthorized or HttpStatusCode.Forbidden : got != (role == "nobody" || byToken ? HttpStatusCode.Unauthorized : HttpStatusCode.Forbidden))
                {
                    wrong.Add($"{address} as {role}: {(int)got}");
                }
            }
        }

        Assert.Empty(wrong);
    }

    [Fact]
    public async Task A_token_opens_what_its_grants_say_and_nothing_else()
    {
        // So many papers in a minute are more than one address is given.
        var many = new RunningShop { Settings = ["--Limits:Made", "6000"] };
        await many.InitializeAsync();
        await using var running = many;
        var wrong = new List<string>();
        foreach (var grant in Enum.GetValues<TokenGrant>())
        {
            using var program = Tokens.Program(many.Urls.Single(), (await Tokens.MakeAsync(many.App.Services, [grant])).Secret);
            foreach (var (address, who) in AccessTable.Addresses.Where(a => a.Address is not "GET /shop-certificate.crt" and not "POST /sign-out"))
            {
                var got = await TryAsync(program, address);
                var refused = !address.Contains(" /api/", StringComparison.Ordinal) ? HttpStatusCode.Unauthorized : HttpStatusCode.Forbidden;
                if (who == "everybody" || who == $"a token for {grant}" ? got is HttpStatusCode.Unauthorized or HttpStatusCode.Forbidden : got != refused)
                {
                    wrong.Add($"{address} with a token for {grant}: {(int)got}");
                }
            }
        }

        Assert.Empty(wrong);
    }

    [Theory]
    [InlineData("/_blazor/negotiate?negotiateVersion=1")]
    [InlineData("/_blazor")]
    public async Task Nobody_gets_a_circuit(string path)
    {
        using var nobody = shop.NewBrowser();
        using var answer = await nobody.PostAsync(new Uri(path, UriKind.Relative), null);
        Assert.Equal(HttpStatusCode.Unauthorized, answer.StatusCode);
    }

    [Fact]
    public async Task A_page_leads_nobody_to_the_sign_in_and_back()
    {
        using var nobody = shop.NewBrowser();
        using var request = new HttpRequestMessage(HttpMethod.Get, "/orders/1001?part=workup") { Headers = { { "Accept", "text/html" } } };
        using var answer = await nobody.SendAsync(request);
        Assert.Equal((HttpStatusCode.Redirect, "/sign-in?return=%2Forders%2F1001%3Fpart%3Dworkup"), (answer.StatusCode, answer.Headers.Location!.OriginalString));
    }

    private static IEnumerable<(string Template, Type Page)> Pages() =>
        typeof(WebApp).Assembly.GetTypes().SelectMany(t => t.GetCustomAttributes<RouteAttribute>().Select(r => (r.Template, t)));

    private IEnumerable<string> Endpoints() => shop.App.Services.GetRequiredService<EndpointDataSource>().Endpoints.OfType<RouteEndpoint>()
        .Where(e => e.Metadata.GetMetadata<Microsoft.AspNetCore.StaticAssets.StaticAssetDescriptor>() is null)
        .Select(e => (Pattern: "/" + e.RoutePattern.RawText!.TrimStart('/'), Endpoint: e))
        // The framework's own: the circuit (below), and what answers 404 for a file that is not there.
        .Where(e => !e.Pattern.StartsWith("/_", StringComparison.Ordinal) && e.Pattern != "/{**path:file}" && e.Endpoint.Metadata.All(m => m is not Microsoft.AspNetCore.Components.Endpoints.ComponentTypeMetadata))
        .SelectMany(e => (e.Endpoint.Metadata.GetMetadata<HttpMethodMetadata>()?.HttpMethods ?? ["GET"]).Select(m => $"{m} {e.Pattern}"));

    private async Task<HttpStatusCode> TryAsync(HttpClient browser, string address)
    {
        var (method, path) = (address.Split(' ')[0], address.Split(' ')[1]
            .Replace("{Number:int}", $"{shop.OrderNumber}", StringComparison.Ordinal).Replace("{number:int}", $"{shop.OrderNumber}", StringComparison.Ordinal)
            .Replace("{order:int}", $"{shop.OrderNumber}", StringComparison.Ordinal)
            .Replace("{name}", "none", StringComparison.Ordinal).Replace("{id:guid}", Guid.NewGuid().ToString(), StringComparison.Ordinal).Replace("/causes/{Id}", "/causes/coil-failed", StringComparison.Ordinal)
            .Replace("/tests/{Id}", "/tests/spark-output", StringComparison.Ordinal));
        using var request = new HttpRequestMessage(new(method), path) { Headers = { { "Accept", "*/*" } } };
        using var answer = await browser.SendAsync(request);
        return answer.StatusCode;
    }
}
