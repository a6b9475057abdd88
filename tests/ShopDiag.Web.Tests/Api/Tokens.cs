using System.Net.Http.Headers;
using Microsoft.Extensions.DependencyInjection;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.People;
using ShopDiag.Storage.Programs;
using ShopDiag.Web.People;

namespace ShopDiag.Web.Tests.Api;

/// <summary>Tokens as an owner makes them on the page, and programs that ask with them.</summary>
internal static class Tokens
{
    /// <summary>Makes one; its secret and key.</summary>
    public static async Task<(string Secret, Guid Id)> MakeAsync(IServiceProvider app, TokenGrant[] grants, DateTime? end = null, string? owner = null)
    {
        await using var scope = ActingAsOwner(app, owner);
        var (secret, id) = (TokenSecret.New(), Guid.NewGuid());
        var made = await scope.ServiceProvider.GetRequiredService<TokenStore>().MakeAsync(id, $"Program {id:N}", [.. grants], end, TokenSecret.Hash(secret)!);
        Assert.Equal((SaveOutcome.Saved, ""), (made.Outcome, made.Message));
        return (secret, id);
    }

    /// <summary>Revokes one.</summary>
    public static async Task RevokeAsync(IServiceProvider app, Guid id)
    {
        await using var scope = ActingAsOwner(app, null);
        Assert.Equal(SaveOutcome.Saved, (await scope.ServiceProvider.GetRequiredService<TokenStore>().RevokeAsync(id)).Outcome);
    }

    /// <summary>A program that asks with a secret; null for none.</summary>
    public static HttpClient Program(string url, string? secret)
    {
        var program = new HttpClient { BaseAddress = new Uri(url) };
        if (secret is not null)
        {
            program.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", secret);
        }

        return program;
    }

    private static AsyncServiceScope ActingAsOwner(IServiceProvider app, string? login)
    {
        var scope = app.CreateAsyncScope();
        var people = scope.ServiceProvider.GetRequiredService<PeopleDirectory>();
        var owner = login is null ? people.All.First(p => p is { Role: PersonRole.Owner, IsActive: true }) : people.FindByLogin(login)!;
        scope.ServiceProvider.GetRequiredService<Acting>().Begin(Session.Begin(owner, SignInWay.Password, "", TimeProvider.System.GetUtcNow()));
        return scope;
    }
}
