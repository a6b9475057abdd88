using System.Net;
using System.Text;
using Microsoft.Extensions.DependencyInjection;
using ShopDiag.Storage.People;
using ShopDiag.Storage.Programs;
using ShopDiag.Web.Tests.Integration;

namespace ShopDiag.Web.Tests.Api;

/// <summary>Who is let in with what. RFC 6750 says how a bearer token is sent and refused.</summary>
public sealed class TokenTests(RunningShop shop) : IClassFixture<RunningShop>
{
    private static readonly Uri Comebacks = new("/api/v1/comebacks", UriKind.Relative);

    [Fact]
    public async Task A_token_lets_its_program_in_and_none_is_told_how_to_get_one()
    {
        var (secret, _) = await MakeAsync(TokenGrant.Figures);
        Assert.Equal(HttpStatusCode.OK, await AskAsync(secret));
        using var nobody = Tokens.Program(Url, null);
        using var answer = await nobody.GetAsync(Comebacks);
        Assert.Equal((HttpStatusCode.Unauthorized, "Bearer realm=\"ShopDiag\""), (answer.StatusCode, answer.Headers.WwwAuthenticate.ToString()));
        Assert.Contains("Authorization: Bearer", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_a_token_was_not_ticked_for_is_refused_and_named()
    {
        var (secret, _) = await MakeAsync(TokenGrant.WorkOut, TokenGrant.Papers);
        using var program = Tokens.Program(Url, secret);
        using var answer = await program.GetAsync(Comebacks);
        Assert.Equal((HttpStatusCode.Forbidden, "application/problem+json"), (answer.StatusCode, answer.Content.Headers.ContentType!.MediaType));
        Assert.Contains("insufficient_scope", answer.Headers.WwwAuthenticate.ToString(), StringComparison.Ordinal);
        Assert.Contains("'Comebacks and other figures'", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Only_the_hash_of_a_secret_is_in_the_files_of_the_shop()
    {
        var (secret, _) = await MakeAsync(TokenGrant.Figures);
        Assert.Equal(HttpStatusCode.OK, await AskAsync(secret));
        var (ofSecret, ofHash) = (0, 0);
        foreach (var file in Directory.EnumerateFiles(shop.DataFolder, "*", SearchOption.AllDirectories).Where(f => Path.GetFileName(f) != "shop.lock"))
        {
            using var stream = new FileStream(file, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
            using var copy = new MemoryStream();
            await stream.CopyToAsync(copy);
            var bytes = copy.ToArray().AsSpan();
            // Without the prefix, which alone would be a different secret's as well.
            ofSecret += bytes.IndexOf(Encoding.ASCII.GetBytes(secret[TokenSecret.Prefix.Length..])) >= 0 ? 1 : 0;
            ofHash += bytes.IndexOf(Encoding.ASCII.GetBytes(TokenSecret.Hash(secret)!)) >= 0 ? 1 : 0;
        }

        Assert.Equal(0, ofSecret);
        Assert.True(ofHash > 0, "the hash is nowhere: the test looked in the wrong place");
    }

    [Fact]
    public async Task A_revoked_token_is_refused_from_the_next_request_on()
    {
        var (secret, id) = await MakeAsync(TokenGrant.Figures);
        using var program = Tokens.Program(Url, secret);
        using (var before = await program.GetAsync(Comebacks))
        {
            Assert.Equal(HttpStatusCode.OK, before.StatusCode);
        }

        await Tokens.RevokeAsync(shop.App.Services, id);
        using var after = await program.GetAsync(Comebacks);
        Assert.Equal(HttpStatusCode.Unauthorized, after.StatusCode);
        Assert.Contains("invalid_token", after.Headers.WwwAuthenticate.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_token_that_is_over_is_refused()
    {
        var (secret, _) = await Tokens.MakeAsync(shop.App.Services, [TokenGrant.Figures], DateTime.UtcNow.AddSeconds(8));
        Assert.Equal(HttpStatusCode.OK, await AskAsync(secret));
        await Task.Delay(TimeSpan.FromSeconds(8.1));
        Assert.Equal(HttpStatusCode.Unauthorized, await AskAsync(secret));
    }

    [Fact]
    public async Task A_token_holds_as_long_as_whoever_made_it_is_an_owner()
    {
        var (people, id) = (shop.Services.GetRequiredService<PeopleStore>(), Guid.NewGuid());
        await people.AddAsync(id, "otto", "Otto", PersonRole.Owner, "hash");
        await shop.Services.GetRequiredService<PeopleDirectory>().ChangeAsync(id, (p, _) => p with { MustChangePassword = false }, Actor.Program, null);
        var (secret, _) = await Tokens.MakeAsync(shop.App.Services, [TokenGrant.Figures], owner: "otto");
        Assert.Equal(HttpStatusCode.OK, await AskAsync(secret));
        await people.SetRoleAsync(id, PersonRole.Advisor);
        Assert.Equal(HttpStatusCode.Unauthorized, await AskAsync(secret));
        await people.SetRoleAsync(id, PersonRole.Owner);
        Assert.Equal(HttpStatusCode.OK, await AskAsync(secret));
        await people.SetActiveAsync(id, false);
        Assert.Equal(HttpStatusCode.Unauthorized, await AskAsync(secret));
    }

    [Theory]
    [InlineData("Basic")]
    [InlineData("Token")]
    [InlineData("")]
    public async Task A_token_that_is_sent_in_another_way_counts_for_nothing(string scheme)
    {
        var (secret, _) = await MakeAsync(TokenGrant.Figures);
        using var program = Tokens.Program(Url, null);
        program.DefaultRequestHeaders.TryAddWithoutValidation("Authorization", $"{scheme} {secret}".Trim());
        using var answer = await program.GetAsync(Comebacks);
        using var inAddress = await Tokens.Program(Url, null).GetAsync(new Uri($"/api/v1/comebacks?access_token={secret}", UriKind.Relative));
        Assert.Equal((HttpStatusCode.Unauthorized, HttpStatusCode.Unauthorized), (answer.StatusCode, inAddress.StatusCode));
    }

    [Fact]
    public async Task A_cookie_counts_for_nothing_there_and_a_token_opens_no_page()
    {
        using var owner = await shop.Client.GetAsync(new Uri("/owner/comebacks.csv", UriKind.Relative));
        using var withCookie = await shop.Client.GetAsync(Comebacks);
        Assert.Equal((HttpStatusCode.OK, HttpStatusCode.Unauthorized), (owner.StatusCode, withCookie.StatusCode));
        var (secret, _) = await MakeAsync(Enum.GetValues<TokenGrant>());
        using var program = Tokens.Program(Url, secret);
        foreach (var path in new[] { "/orders", "/owner/comebacks.csv", "/owner/programs", $"/orders/{shop.OrderNumber}/bench.pdf", "/antiforgery-token" })
        {
            using var request = new HttpRequestMessage(HttpMethod.Get, path) { Headers = { { "Accept", "*/*" } } };
            using var answer = await program.SendAsync(request);
            Assert.Equal((path, HttpStatusCode.Unauthorized), (path, answer.StatusCode));
        }
    }

    [Fact]
    public async Task A_page_of_another_site_is_not_answered_even_with_a_token()
    {
        var (secret, _) = await MakeAsync(TokenGrant.WorkOut);
        using var program = Tokens.Program(Url, secret);
        using var request = new HttpRequestMessage(HttpMethod.Post, "/api/v1/diagnose") { Headers = { { "Origin", "https://elsewhere.example" } }, Content = new StringContent("{}", Encoding.UTF8, "application/json") };
        using var answer = await program.SendAsync(request);
        Assert.Equal((HttpStatusCode.Forbidden, "application/problem+json"), (answer.StatusCode, answer.Content.Headers.ContentType!.MediaType));
        Assert.DoesNotContain(answer.Headers, h => h.Key.StartsWith("Access-Control", StringComparison.OrdinalIgnoreCase));
    }

    [Fact]
    public async Task Making_and_revoking_stand_in_the_record_and_no_secret_does()
    {
        var (secret, id) = await MakeAsync(TokenGrant.Papers);
        await Tokens.RevokeAsync(shop.App.Services, id);
        var record = await shop.Services.GetRequiredService<Storage.Audit.AuditStore>().OfShopAsync(null, 20);
        Assert.Contains(record, e => e.What == "make token" && e.Who == RunningShop.Owner && e.After == $"Program {id:N}: Papers");
        Assert.Contains(record, e => e.What == "revoke token" && e.Before == $"Program {id:N}");
        Assert.DoesNotContain(record, e => $"{e.Before}{e.After}".Contains(secret[^10..], StringComparison.Ordinal));
    }

    [Fact]
    public async Task The_last_use_is_noted_once_an_hour()
    {
        var (secret, id) = await MakeAsync(TokenGrant.Figures);
        var tokens = shop.App.Services.GetRequiredService<TokenDirectory>();
        Assert.Null(tokens.All.Single(t => t.Id == id).LastUsedAt);
        await AskAsync(secret);
        var used = tokens.All.Single(t => t.Id == id).LastUsedAt;
        Assert.NotNull(used);
        await AskAsync(secret);
        Assert.Equal(used, tokens.All.Single(t => t.Id == id).LastUsedAt);
    }

    private string Url => shop.Urls.Single();

    private Task<(string Secret, Guid Id)> MakeAsync(params TokenGrant[] grants) => Tokens.MakeAsync(shop.App.Services, grants);

    private async Task<HttpStatusCode> AskAsync(string secret)
    {
        using var program = Tokens.Program(Url, secret);
        using var answer = await program.GetAsync(Comebacks);
        return answer.StatusCode;
    }
}
