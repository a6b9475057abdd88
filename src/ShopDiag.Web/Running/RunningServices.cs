using Microsoft.AspNetCore.Server.Kestrel.Core;

namespace ShopDiag.Web.Running;

/// <summary>What keeps the program in bounds and lets others see how it is.</summary>
public static class RunningServices
{
    /// <summary>Largest body of a request where nothing else is said, bytes. What takes files says so itself.</summary>
    public const long LargestBody = 1_000_000;

    /// <summary>Adds limits, health checks and, where a collector is named, telemetry.</summary>
    public static IServiceCollection AddRunning(this IServiceCollection services, IConfiguration configuration) => services
        .Configure<KestrelServerOptions>(k => k.Limits.MaxRequestBodySize = LargestBody)
        .AddRequestLimits(configuration)
        .AddShopHealth()
        .AddTelemetry(configuration);
}
