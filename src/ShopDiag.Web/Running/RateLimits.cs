using System.Globalization;
using System.Threading.RateLimiting;
using ShopDiag.Storage.Programs;
using ShopDiag.Web.Api;

namespace ShopDiag.Web.Running;

/// <summary>How many requests a minute one address may send, by what they cost; or one token, whatever the address. Far above what a tablet with a hurried person sends, far below what keeps others from working.</summary>
public sealed class RequestLimits
{
    /// <summary>Section of the settings.</summary>
    public const string Section = "Limits";

    /// <summary>Papers, spreadsheets, backups: made anew for each request.</summary>
    public int Made { get; set; } = 60;

    /// <summary>What is sent to the program: photos, recordings, files.</summary>
    public int Sent { get; set; } = 240;

    /// <summary>Pages and the rest.</summary>
    public int Other { get; set; } = 1200;

    /// <summary>What one program asks with its token, from wherever.</summary>
    public int Token { get; set; } = 120;

    /// <summary>Tokens that do not hold. No number of tries would find one; a program that goes on with a revoked one should notice.</summary>
    public int WrongTokens { get; set; } = 20;
}

/// <summary>Holds requests to <see cref="RequestLimits"/>. The circuit's own connection, static files and health checks do not count.</summary>
public static class RateLimits
{
    private static readonly string[] Free = ["/_blazor", "/_framework", "/_content", "/css", "/js", "/fonts", "/health", "/favicon.svg"];
    private static readonly string[] Made = [".pdf", ".csv", ".zip"];

    /// <summary>Adds the limits.</summary>
    public static IServiceCollection AddRequestLimits(this IServiceCollection services, IConfiguration configuration)
    {
        ArgumentNullException.ThrowIfNull(configuration);
        var limits = configuration.GetSection(RequestLimits.Section).Get<RequestLimits>() ?? new();
        return services.AddRateLimiter(o =>
        {
            o.RejectionStatusCode = StatusCodes.Status429TooManyRequests;
            o.GlobalLimiter = PartitionedRateLimiter.Create<HttpContext, string>(http => PartitionOf(http, limits));
            o.OnRejected = static async (context, cancel) =>
            {
                var wait = context.Lease.TryGetMetadata(MetadataName.RetryAfter, out var after) ? after : TimeSpan.FromMinutes(1);
                context.HttpContext.Response.Headers.RetryAfter = Math.Ceiling(wait.TotalSeconds).ToString(CultureInfo.InvariantCulture);
                var answer = context.HttpContext.Response;
                if (ApiAddress.IsFor(context.HttpContext.Request))
                {
                    await new ApiProblem(StatusCodes.Status429TooManyRequests, $"Too much was asked for at once. Wait as long as the header Retry-After says, then ask again.").ExecuteAsync(context.HttpContext);
                    return;
                }

                // A form is sent by a person who sees the answer as a page.
                await (context.HttpContext.Request.HasFormContentType
                    ? answer.WriteAsync("Too many tries from this device. Wait a minute, go back and try again.", cancel)
                    : answer.WriteAsJsonAsync("Too much was asked for at once. Wait a moment and try again.", cancel));
            };
        });
    }

    private static RateLimitPartition<string> PartitionOf(HttpContext http, RequestLimits limits)
    {
        var path = http.Request.Path;
        if (Array.Exists(Free, f => path.StartsWithSegments(f, StringComparison.OrdinalIgnoreCase)))
        {
            return RateLimitPartition.GetNoLimiter("free");
        }

        if (ApiAddress.IsFor(http.Request) && http.Request.Headers.Authorization.Count > 0)
        {
            var services = http.RequestServices;
            return services.GetRequiredService<TokenDirectory>().Find(TokenScheme.SecretIn(http.Request), services.GetRequiredService<TimeProvider>().GetUtcNow()) is { } token
                ? Bucket($"token {token.Id}", limits.Token)
                : Bucket($"wrong token {http.Connection.RemoteIpAddress}", limits.WrongTokens);
        }

        var (kind, limit) = HttpMethods.IsGet(http.Request.Method) || HttpMethods.IsHead(http.Request.Method)
            ? Array.Exists(Made, m => path.Value!.EndsWith(m, StringComparison.OrdinalIgnoreCase)) ? ("made", limits.Made) : ("other", limits.Other)
            : ("sent", limits.Sent);
        return Bucket($"{kind} {http.Connection.RemoteIpAddress}", limit);
    }

    private static RateLimitPartition<string> Bucket(string key, int limit) => RateLimitPartition.GetTokenBucketLimiter(key, _ => new()
    {
        TokenLimit = limit, TokensPerPeriod = Math.Max(1, limit / 6), ReplenishmentPeriod = TimeSpan.FromSeconds(10), QueueLimit = 0, AutoReplenishment = true,
    });
}
