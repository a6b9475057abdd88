namespace ShopDiag.Web;

/// <summary>Headers that tell the browser what our pages never do.</summary>
public static class SecurityHeaders
{
    // Styles: the theme of the component library is a style element of its own, so 'unsafe-inline' is needed there; scripts come from files only.
    private const string Policy =
        "default-src 'self'; script-src 'self'; style-src 'self' 'unsafe-inline'; img-src 'self' blob: data:; font-src 'self'; connect-src 'self'; "
        + "object-src 'none'; base-uri 'self'; form-action 'self'; frame-ancestors 'none'";

    // A browser shows a paper by embedding it in a page of its own, which some of them do under the paper's policy.
    private const string PaperPolicy = "default-src 'none'; object-src 'self'; style-src 'unsafe-inline'; frame-ancestors 'none'";

    /// <summary>Puts the headers on every answer; pages are not kept by the browser, files are.</summary>
    public static IApplicationBuilder UseSecurityHeaders(this IApplicationBuilder app) => app.Use((context, next) =>
    {
        context.Response.OnStarting(() =>
        {
            var headers = context.Response.Headers;
            var type = context.Response.ContentType ?? "";
            headers.ContentSecurityPolicy = type.StartsWith("application/pdf", StringComparison.Ordinal) ? PaperPolicy : Policy;
            headers.XFrameOptions = "DENY";
            headers.XContentTypeOptions = "nosniff";
            // Other sites learn nothing. With "no-referrer" a browser would not say to us either that a form is our own (Origin: null; Fetch standard, "append a request Origin header").
            headers["Referrer-Policy"] = "same-origin";
            headers["Cross-Origin-Opener-Policy"] = "same-origin";
            headers["Cross-Origin-Resource-Policy"] = "same-origin";
            headers["Permissions-Policy"] = "camera=(self), microphone=(self), geolocation=()";
            // Not for this machine's own name: other programs on it may speak plain http under that name.
            if (context.Request.IsHttps && context.Request.Host.Host is not ("localhost" or "127.0.0.1" or "[::1]"))
            {
                headers.StrictTransportSecurity = "max-age=31536000";
            }

            if (type.StartsWith("text/html", StringComparison.Ordinal))
            {
                headers.CacheControl = "no-store";
            }

            return Task.CompletedTask;
        });
        return next(context);
    });
}
