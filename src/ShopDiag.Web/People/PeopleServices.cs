using System.Threading.RateLimiting;
using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Components.Server.Circuits;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Identity;
using ShopDiag.Storage.People;
using ShopDiag.Web.Api;

namespace ShopDiag.Web.People;

/// <summary>Puts signing in, and who may do what, into the web application.</summary>
public static class PeopleServices
{
    /// <summary>Name of the limit on tries to sign in.</summary>
    public const string SignInLimit = "sign-in";

    /// <summary>Tries to sign in a minute from one address: far more than a shop at the start of a shift, far less than guessing needs.</summary>
    public const int TriesAMinute = 20;

    private const string ByAddress = "By address";
    private const int WrongPasswords = 5;
    private static readonly TimeSpan PasswordBlock = TimeSpan.FromMinutes(5);

    /// <summary>Adds Identity over the shop's own store, cookies, policies and limits. Before the stores: they act for whoever is signed in.</summary>
    public static IServiceCollection AddPeople(this IServiceCollection services, string dataFolder)
    {
        services.AddIdentityCore<Account>(o =>
        {
            o.Lockout.MaxFailedAccessAttempts = WrongPasswords;
            o.Lockout.DefaultLockoutTimeSpan = PasswordBlock;
            o.Lockout.AllowedForNewUsers = true;
        }).AddSignInManager();
        services.AddScoped<IUserStore<Account>, AccountStore>().AddSingleton<ILookupNormalizer, LoginNormalizer>().AddSingleton<IPasswordHasher<Account>, PasswordHasher<Account>>();
        // One way in for each address: a cookie for pages, a token for programs, and never the other.
        services.AddAuthentication(ByAddress)
            .AddPolicyScheme(ByAddress, null, o => o.ForwardDefaultSelector = http => ApiAddress.IsFor(http.Request) ? TokenScheme.Name : IdentityConstants.ApplicationScheme)
            .AddScheme<AuthenticationSchemeOptions, TokenScheme>(TokenScheme.Name, null)
            .AddCookie(IdentityConstants.ApplicationScheme, SignInCookie.Configure)
            // Between the options of a passkey and its answer; Identity's name for that cookie.
            .AddCookie(IdentityConstants.TwoFactorUserIdScheme, o => (o.Cookie.Name, o.Cookie.SameSite, o.Cookie.HttpOnly, o.ExpireTimeSpan) = ("shopdiag.passkey", SameSiteMode.Strict, true, TimeSpan.FromMinutes(5)));
        services.Configure<IdentityPasskeyOptions>(o => (o.UserVerificationRequirement, o.ResidentKeyRequirement) = ("required", "required"));
        services.AddAuthorization(Policies.AddAll).AddSingleton<IAuthorizationHandler, PermissionHandler>();
        services.AddCascadingAuthenticationState().AddHttpContextAccessor();
        services.AddSingleton<Actors>().AddScoped<Acting>().AddScoped<IActing>(s => s.GetRequiredService<Acting>()).AddScoped<CircuitHandler, CircuitPerson>();
        services.AddSingleton<Passwords>().AddSingleton(s => new Pins(s.GetRequiredService<IPasswordHasher<Account>>(), dataFolder));
        services.AddSingleton<Devices>().AddSingleton<SetUpCode>().AddScoped<SignIns>();
        // The same flags as the cookie of the sign-in.
        services.AddAntiforgery(o => (o.Cookie.Name, o.Cookie.SameSite, o.Cookie.SecurePolicy) = ("shopdiag.form", SameSiteMode.Strict, CookieSecurePolicy.SameAsRequest));
        services.AddRateLimiter(o =>
        {
            o.AddPolicy(SignInLimit, http => HttpMethods.IsPost(http.Request.Method)
                ? RateLimitPartition.GetFixedWindowLimiter(
                    http.Connection.RemoteIpAddress?.ToString() ?? "", _ => new() { PermitLimit = TriesAMinute, Window = TimeSpan.FromMinutes(1), QueueLimit = 0 })
                : RateLimitPartition.GetNoLimiter(""));
        });
        return services;
    }

    /// <summary>Finds out who asks, and turns away whoever may not.</summary>
    public static void UsePeople(this IApplicationBuilder app)
    {
        app.UseRouting();
        app.UseSetUpGate();
        app.UseRateLimiter();
        app.UseApiNowhere();
        app.UseAuthentication();
        app.Use((context, next) =>
        {
            context.RequestServices.GetRequiredService<Acting>().Begin(context.User);
            return next(context);
        });
        app.UseAuthorization();
    }

    /// <summary>Adds <c>POST /sign-out</c>: out, and on to where <c>to</c> says.</summary>
    public static void MapPeople(this IEndpointRouteBuilder app) =>
        app.MapPost("/sign-out", async Task<Results<RedirectHttpResult, BadRequest<string>>> (HttpContext http, IAntiforgery antiforgery, SignIns signIns) =>
        {
            if (!await antiforgery.IsRequestValidAsync(http))
            {
                return TypedResults.BadRequest("This page was open too long. Reload it and try again.");
            }

            await signIns.EndAsync(http);
            return TypedResults.LocalRedirect(LocalAddress(http.Request.Form["to"]));
        }).AllowAnonymous();

    /// <summary>An address of our own, or the open orders: a link must not lead to another site by way of the sign-in.</summary>
    public static string LocalAddress(string? address) =>
        address is ['/', ..] && !(address.Length > 1 && address[1] is '/' or '\\') && !address.Any(char.IsControl) ? address : "/orders";

    /// <summary>A store that acts for the program, for services that live as long as it does.</summary>
    public static T OfProgram<T>(this IServiceProvider services)
        where T : notnull => services.GetRequiredService<ProgramScope>().Services.GetRequiredService<T>();

    /// <summary>Opens a scope in which the program itself acts.</summary>
    public static AsyncServiceScope CreateProgramScope(this IServiceProvider services)
    {
        var scope = services.CreateAsyncScope();
        scope.ServiceProvider.GetRequiredService<Acting>().BeginAsProgram();
        return scope;
    }
}

/// <summary>The scope of those services: there is one.</summary>
public sealed class ProgramScope(IServiceProvider services) : IAsyncDisposable
{
    private readonly AsyncServiceScope _scope = services.CreateProgramScope();

    /// <summary>What is in it.</summary>
    public IServiceProvider Services => _scope.ServiceProvider;

    /// <inheritdoc/>
    public ValueTask DisposeAsync() => _scope.DisposeAsync();
}
