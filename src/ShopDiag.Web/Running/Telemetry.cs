using System.Diagnostics.Metrics;
using OpenTelemetry.Metrics;
using OpenTelemetry.Resources;
using ShopDiag.Storage.Writing;
using ShopDiag.Web.Keeping;

namespace ShopDiag.Web.Running;

/// <summary>
/// Counts and times for a collector that the shop runs, by OpenTelemetry (OTLP). Off unless the standard setting OTEL_EXPORTER_OTLP_ENDPOINT names one. Numbers only: no traces, whose addresses would hold what somebody
/// searched for.
/// </summary>
public static class Telemetry
{
    /// <summary>The setting that switches it on.</summary>
    public const string Setting = "OTEL_EXPORTER_OTLP_ENDPOINT";

    private static readonly string[] Meters =
    [
        StorageMeters.Name, ShopMeters.Name, "System.Runtime", "Microsoft.AspNetCore.Hosting", "Microsoft.AspNetCore.Server.Kestrel", "Microsoft.AspNetCore.RateLimiting",
        "Microsoft.AspNetCore.Components.Server.Circuits", "Microsoft.AspNetCore.Components.Lifecycle",
    ];

    /// <summary>Adds it where it is asked for.</summary>
    public static IServiceCollection AddTelemetry(this IServiceCollection services, IConfiguration configuration)
    {
        ArgumentNullException.ThrowIfNull(configuration);
        if (string.IsNullOrWhiteSpace(configuration[Setting]))
        {
            return services;
        }

        services.AddSingleton<ShopMeters>().AddHostedService(s => s.GetRequiredService<ShopMeters>());
        services.AddOpenTelemetry()
            .ConfigureResource(r => r.AddService("shopdiag", serviceVersion: RunningNow.Version))
            .WithMetrics(m => m.AddMeter(Meters).AddOtlpExporter());
        return services;
    }
}

/// <summary>What the owner's page says, as numbers.</summary>
internal sealed class ShopMeters : IHostedService, IDisposable
{
    /// <summary>Name of the meter.</summary>
    public const string Name = "ShopDiag.Shop";

    private readonly Meter _meter = new(Name);

    public ShopMeters(RunningNow running, ConnectedTablets tablets, StorageTrouble trouble, TimeProvider time)
    {
        _meter.CreateObservableGauge("shopdiag.tablets.connected", () => tablets.Connected, "{tablet}", "Pages that are open and connected.");
        _meter.CreateObservableGauge("shopdiag.backup.age", () => running.LastBackup is { } last ? (time.GetUtcNow().UtcDateTime - last.MadeAt).TotalSeconds : double.NaN, "s", "Age of the newest backup.");
        _meter.CreateObservableGauge("shopdiag.disk.free", () => running.FreeRoom ?? 0, "By", "Free room on the disk of the data folder.");
        _meter.CreateObservableGauge("shopdiag.disk.trouble", () => trouble.Message is null ? 0 : 1, "1", "1 while nothing can be saved.");
    }

    public Task StartAsync(CancellationToken cancellationToken) => Task.CompletedTask;

    public Task StopAsync(CancellationToken cancellationToken) => Task.CompletedTask;

    public void Dispose() => _meter.Dispose();
}
