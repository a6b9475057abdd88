using ShopDiag.Web.Api;

namespace ShopDiag.Web.Running;

/// <summary>
/// Only pages of our own may change anything or open a circuit. A browser says from where a page came (Origin; RFC 6454) with every request that is not a plain look and with every web socket, and a page cannot
/// make it say otherwise. Programs that are no browsers say nothing and are held by the antiforgery tokens and by signing in, or by tokens of their own.
/// </summary>
public static class OwnPagesOnly
{
    /// <summary>Answers 403 to what comes from elsewhere.</summary>
    public static IApplicationBuilder UseOwnPagesOnly(this IApplicationBuilder app) => app.Use((context, next) =>
    {
        var request = context.Request;
        var looks = HttpMethods.IsGet(request.Method) || HttpMethods.IsHead(request.Method);
        if ((looks && !request.Path.StartsWithSegments("/_blazor", StringComparison.OrdinalIgnoreCase)) || request.Headers.Origin is not [{ Length: > 0 } origin] || IsOwn(origin, request.Host))
        {
            return next(context);
        }

        if (ApiAddress.IsFor(request))
        {
            return new ApiProblem(StatusCodes.Status403Forbidden, "Pages of other sites are not answered. Ask from a program, which sends no Origin.", "Origin").ExecuteAsync(context);
        }

        context.Response.StatusCode = StatusCodes.Status403Forbidden;
        return Task.CompletedTask;
    });

    // Without the scheme: in front of the program may stand a server that speaks https for it.
    private static bool IsOwn(string origin, HostString host) =>
        Uri.TryCreate(origin, UriKind.Absolute, out var from) && string.Equals(from.Host, host.Host, StringComparison.OrdinalIgnoreCase) && (host.Port is null || from.Port == host.Port || host.Port is 80 or 443);
}
