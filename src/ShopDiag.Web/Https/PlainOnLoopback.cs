namespace ShopDiag.Web.Https;

/// <summary>Beside https, plain http is for this machine: a foreign name that somebody points at 127.0.0.1 is turned away there. Over https the certificate itself does that.</summary>
internal static class PlainOnLoopback
{
    /// <summary>Answers 400 to a request without https for another host than this machine.</summary>
    public static IApplicationBuilder UsePlainOnLoopbackOnly(this IApplicationBuilder app) => app.Use((context, next) =>
    {
        if (context.Request.IsHttps || context.Request.Host.Host is "localhost" or "127.0.0.1" or "[::1]")
        {
            return next(context);
        }

        context.Response.StatusCode = StatusCodes.Status400BadRequest;
        return Task.CompletedTask;
    });
}
