using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authentication.Cookies;
using ShopDiag.Storage.People;
using ShopDiag.Web.Api;

namespace ShopDiag.Web.People;

/// <summary>How a sign-in is kept in the browser, and what somebody gets who has none or may not.</summary>
internal static class SignInCookie
{
    /// <summary>Name of the cookie.</summary>
    public const string Name = "shopdiag.session";

    /// <summary>Not readable by scripts, never sent along from another site, over https only where there is https; checked at every request against who still works here.</summary>
    public static void Configure(CookieAuthenticationOptions options)
    {
        options.Cookie.Name = Name;
        options.Cookie.HttpOnly = true;
        options.Cookie.SameSite = SameSiteMode.Strict;
        options.Cookie.SecurePolicy = CookieSecurePolicy.SameAsRequest;
        options.Cookie.IsEssential = true;
        options.ExpireTimeSpan = Session.Idle;
        options.SlidingExpiration = true;
        options.LoginPath = "/sign-in";
        options.ReturnUrlParameter = "return";
        options.Events = new CookieAuthenticationEvents
        {
            OnValidatePrincipal = ValidateAsync,
            OnRedirectToLogin = context => IsPage(context.Request) ? Go(context, SignInAddress(context.HttpContext)) : Say(context, StatusCodes.Status401Unauthorized),
            OnRedirectToAccessDenied = context => IsPage(context.Request) && ActorOf(context.HttpContext).MustChangePassword
                ? Go(context, "/me")
                : Say(context, StatusCodes.Status403Forbidden),
        };
    }

    /// <summary>True for what a person asks for in the bar of the browser; anything else is asked for by a script and wants a number.</summary>
    public static bool IsPage(HttpRequest request) => (HttpMethods.IsGet(request.Method) || HttpMethods.IsHead(request.Method))
        && (request.Headers.TryGetValue("Sec-Fetch-Dest", out var dest) ? dest == "document" : request.Headers.Accept.ToString() is { } accept && (accept.Length == 0 || accept.Contains("text/html", StringComparison.OrdinalIgnoreCase)))
        && !request.Path.StartsWithSegments("/_blazor") && !ApiAddress.IsFor(request);

    private static Actor ActorOf(HttpContext http) =>
        Session.ActorOf(http.User, http.RequestServices.GetRequiredService<PeopleDirectory>(), http.RequestServices.GetRequiredService<TimeProvider>().GetUtcNow());

    // On a device of the shop a few touches are enough.
    private static string SignInAddress(HttpContext http) =>
        $"{(http.RequestServices.GetRequiredService<Devices>().Of(http) is null ? "/sign-in" : "/switch")}?return={Uri.EscapeDataString(http.Request.Path + http.Request.QueryString)}";

    private static async Task ValidateAsync(CookieValidatePrincipalContext context)
    {
        var services = context.HttpContext.RequestServices;
        if (!Session.ActorOf(context.Principal, services.GetRequiredService<PeopleDirectory>(), services.GetRequiredService<TimeProvider>().GetUtcNow()).IsSomebody)
        {
            context.RejectPrincipal();
            await context.HttpContext.SignOutAsync(context.Scheme.Name);
        }
    }

    private static Task Go(RedirectContext<CookieAuthenticationOptions> context, string address)
    {
        context.Response.Redirect(address);
        return Task.CompletedTask;
    }

    private static Task Say(RedirectContext<CookieAuthenticationOptions> context, int status)
    {
        context.Response.StatusCode = status;
        return Task.CompletedTask;
    }
}
