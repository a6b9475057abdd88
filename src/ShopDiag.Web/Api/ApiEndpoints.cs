using System.Threading.RateLimiting;

namespace ShopDiag.Web.Api;

/// <summary>The HTTP interface for other programs: the verbs that make sense from afar, with the same options, limits and lines of JSON. docs/api.md.</summary>
internal static class ApiEndpoints
{
    /// <summary>Documents of JSON, one a line.</summary>
    public const string Lines = "application/x-ndjson";

    /// <summary>One document of JSON.</summary>
    public const string Document = "application/json";

    /// <summary>Name of the limit on how much is worked out at once.</summary>
    public const string WorkLimit = "work";

    // Two at a time, as many as cores in a small computer: tablets must go on. A few more wait for their turn.
    private const int AtOnce = 2;
    private const int Waiting = 8;

    /// <summary>Adds the description and the limit.</summary>
    public static IServiceCollection AddProgramInterface(this IServiceCollection services) => services
        .AddOpenApi("v1", ApiDocument.Describe)
        .AddRateLimiter(o => o.AddPolicy(WorkLimit, _ => RateLimitPartition.GetConcurrencyLimiter(WorkLimit, _ => new() { PermitLimit = AtOnce, QueueLimit = Waiting, QueueProcessingOrder = QueueProcessingOrder.OldestFirst })));

    /// <summary>Adds the endpoints under <see cref="ApiAddress.Root"/>.</summary>
    public static void MapProgramInterface(this IEndpointRouteBuilder app)
    {
        var api = app.MapGroup(ApiAddress.Root);
        api.MapWork();
        api.MapShop();
        // It says what the program can do and nothing of the shop.
        app.MapOpenApi(ApiAddress.Document).AllowAnonymous();
    }
}
