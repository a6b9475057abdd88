using System.Text.Json;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Identity;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.People;

namespace ShopDiag.Web.People;

/// <summary>What <c>wwwroot/js/passkeys.js</c> asks for: W3C Web Authentication, as ASP.NET Core Identity speaks it. Who may ask from where is settled by <c>OwnPagesOnly</c>, as for everything that changes something.</summary>
public static class PasskeyEndpoints
{
    private const int LongestAnswer = 16 * 1024;

    /// <summary>Adds them.</summary>
    public static void MapPasskeys(this IEndpointRouteBuilder app)
    {
        app.MapPost("/passkeys/options", NewOptionsAsync).Needs(Permission.OwnSignIn);
        app.MapPost("/passkeys", AddAsync).Needs(Permission.OwnSignIn);
        app.MapPost("/passkeys/sign-in/options", static async Task<ContentHttpResult> (SignInManager<Account> manager) => Json(await manager.MakePasskeyRequestOptionsAsync(null)))
            .AllowAnonymous().RequireRateLimiting(PeopleServices.SignInLimit);
        app.MapPost("/passkeys/sign-in", SignInAsync).AllowAnonymous().RequireRateLimiting(PeopleServices.SignInLimit);
    }

    private static async Task<Results<ContentHttpResult, BadRequest<string>>> NewOptionsAsync(IActing acting, PeopleDirectory people, SignInManager<Account> manager)
    {
        if (acting.Current.PersonId is not { } id || people.Find(id) is not { } me)
        {
            return TypedResults.BadRequest("Nobody is signed in. Sign in again.");
        }

        return Json(await manager.MakePasskeyCreationOptionsAsync(new() { Id = me.Id.ToString(), Name = me.Login, DisplayName = me.Name }));
    }

    private static async Task<Results<NoContent, BadRequest<string>>> AddAsync(JsonElement answer, PeopleStore store, SignInManager<Account> manager)
    {
        if (Credential(answer) is not { } credential || !answer.TryGetProperty("name", out var name) || name.ValueKind != JsonValueKind.String)
        {
            return TypedResults.BadRequest("This is no passkey.");
        }

        if (await SignIns.UnderWayAsync(() => manager.PerformPasskeyAttestationAsync(credential)) is not { } made)
        {
            return TypedResults.BadRequest(SignIns.TooLate);
        }

        if (!made.Succeeded)
        {
            return TypedResults.BadRequest("The passkey could not be made. Try once more.");
        }

        var called = name.GetString()!.Trim() is { Length: > 0 and <= Passkey.NameLength } given ? given : "Passkey";
        var saved = await store.AddMyPasskeyAsync(AccountStore.Keep(made.Passkey) with { Name = called });
        return saved.Outcome == SaveOutcome.Saved ? TypedResults.NoContent() : TypedResults.BadRequest(saved.Message);
    }

    private static async Task<Results<NoContent, BadRequest<string>>> SignInAsync(JsonElement answer, HttpContext http, SignIns signIns) =>
        Credential(answer) is not { } credential ? TypedResults.BadRequest("This is no passkey.")
        : await signIns.ByPasskeyAsync(http, credential) is { } refused ? TypedResults.BadRequest(refused) : TypedResults.NoContent();

    private static string? Credential(JsonElement answer) =>
        answer.ValueKind == JsonValueKind.Object && answer.TryGetProperty("credential", out var credential) && credential.ValueKind == JsonValueKind.Object && credential.GetRawText() is { Length: <= LongestAnswer } text ? text : null;

    private static ContentHttpResult Json(string options) => TypedResults.Content(options, "application/json");
}
