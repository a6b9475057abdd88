using System.Security.Claims;
using System.Text.Encodings.Web;
using Microsoft.AspNetCore.Authentication;
using Microsoft.Extensions.Options;
using ShopDiag.Storage.Programs;

namespace ShopDiag.Web.Api;

/// <summary>
/// How other programs say who they are: a token in the header Authorization (RFC 6750, 2.1), at the addresses of the HTTP interface alone. A cookie counts for nothing there, so that no page of another site can
/// make a browser ask in somebody's name; and a token opens no page.
/// </summary>
internal sealed partial class TokenScheme(IOptionsMonitor<AuthenticationSchemeOptions> options, ILoggerFactory logger, UrlEncoder encoder, TokenDirectory tokens, TimeProvider time)
    : AuthenticationHandler<AuthenticationSchemeOptions>(options, logger, encoder)
{
    /// <summary>Name of the scheme.</summary>
    public const string Name = "Token";

    private const string TokenClaim = "token";
    private const string Word = "Bearer ";
    private const string HowTo = "Send a token of the shop as 'Authorization: Bearer shopdiag_...'. The owner makes tokens on the page Programs.";
    private const string DoesNotHold = "This token does not hold: it is mistyped, was revoked, is over, or was made by somebody who is no owner any more. The owner makes another on the page Programs.";

    /// <summary>The secret that a request carries; null for none, or for what is no secret.</summary>
    public static string? SecretIn(HttpRequest request) =>
        request.Headers.Authorization is [{ } header] && header.StartsWith(Word, StringComparison.OrdinalIgnoreCase) ? header[Word.Length..].Trim() : null;

    /// <summary>The token that somebody who asks was known by; null for people.</summary>
    public static Guid? TokenOf(ClaimsPrincipal? principal) =>
        principal?.Identity is { IsAuthenticated: true, AuthenticationType: Name } && Guid.TryParse(principal.FindFirstValue(TokenClaim), out var id) ? id : null;

    protected override async Task<AuthenticateResult> HandleAuthenticateAsync()
    {
        if (Request.Headers.Authorization.Count == 0)
        {
            return AuthenticateResult.NoResult();
        }

        var now = time.GetUtcNow();
        if (tokens.Find(SecretIn(Request), now) is not { } token)
        {
            Refused(Logger);
            return AuthenticateResult.Fail("The token does not hold.");
        }

        await NoteAsync(token, now);
        return AuthenticateResult.Success(new(new(new ClaimsIdentity([new(TokenClaim, token.Id.ToString()), new(ClaimTypes.Name, token.Name)], Name)), Name));
    }

    protected override Task HandleChallengeAsync(AuthenticationProperties properties)
    {
        var none = Request.Headers.Authorization.Count == 0;
        // RFC 6750, 3.1: no error code for a request that lacks any authentication.
        Response.Headers.WWWAuthenticate = none ? "Bearer realm=\"ShopDiag\"" : "Bearer realm=\"ShopDiag\", error=\"invalid_token\"";
        return new ApiProblem(StatusCodes.Status401Unauthorized, none ? HowTo : DoesNotHold).ExecuteAsync(Context);
    }

    protected override Task HandleForbiddenAsync(AuthenticationProperties properties)
    {
        Response.Headers.WWWAuthenticate = "Bearer realm=\"ShopDiag\", error=\"insufficient_scope\"";
        var needed = Context.GetEndpoint()?.Metadata.GetMetadata<ApiOperation>()?.Grant;
        return new ApiProblem(StatusCodes.Status403Forbidden, $"This token may not do that. The owner makes one for it on the page Programs, with a tick at '{needed}'.").ExecuteAsync(Context);
    }

    // When the disk takes nothing the question can be answered all the same.
    private async Task NoteAsync(ProgramToken token, DateTimeOffset now)
    {
        try
        {
            await tokens.UsedAsync(token, now, Context.RequestAborted);
        }
        catch (Exception e) when (e is not OperationCanceledException)
        {
            NotNoted(Logger, e);
        }
    }

    // Neither what was sent nor from where: a mistyped secret is nearly the secret.
    [LoggerMessage(Level = LogLevel.Warning, Message = "A request with a token that does not hold was refused")]
    private static partial void Refused(ILogger log);

    [LoggerMessage(Level = LogLevel.Warning, Message = "The use of a token could not be noted")]
    private static partial void NotNoted(ILogger log, Exception failure);
}
