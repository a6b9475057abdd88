using Microsoft.Extensions.Diagnostics.HealthChecks;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Writing;
using ShopDiag.Web.Keeping;

namespace ShopDiag.Web.Running;

/// <summary>Whether the shop can work, for whatever watches over the program: <c>/health/live</c> says that the process answers, <c>/health/ready</c> that records can be read and saved.</summary>
public static class Health
{
    /// <summary>Adds the checks.</summary>
    public static IServiceCollection AddShopHealth(this IServiceCollection services)
    {
        services.AddHealthChecks().AddCheck<RecordsCheck>("records").AddCheck<RoomCheck>("room").AddCheck<BackupCheck>("backup");
        return services;
    }

    /// <summary>Adds <c>GET /health/ready</c>: a line a check, 200 unless one of them is unhealthy (503). No names, no folders: it may be asked from outside.</summary>
    public static void MapShopHealth(this IEndpointRouteBuilder app) => app.MapHealthChecks("/health/ready", new()
    {
        ResponseWriter = static (http, report) =>
        {
            http.Response.ContentType = "text/plain; charset=utf-8";
            return http.Response.WriteAsync(string.Join('\n', report.Entries.Select(e => $"{e.Key}: {e.Value.Status} {e.Value.Description}".TrimEnd()).Prepend(report.Status.ToString())));
        },
    }).AllowAnonymous();

    private sealed class RecordsCheck(OrderStore orders, StorageTrouble trouble) : IHealthCheck
    {
        public async Task<HealthCheckResult> CheckHealthAsync(HealthCheckContext context, CancellationToken cancellationToken = default)
        {
            await orders.GetByNumberAsync(0, cancellationToken);
            return trouble.Message is null ? HealthCheckResult.Healthy() : HealthCheckResult.Unhealthy("Nothing can be saved.");
        }
    }

    private sealed class RoomCheck(RunningNow running) : IHealthCheck
    {
        public Task<HealthCheckResult> CheckHealthAsync(HealthCheckContext context, CancellationToken cancellationToken = default) =>
            Task.FromResult(running.FreeRoom < RunningNow.LittleRoom ? HealthCheckResult.Degraded("Less than 1 GB is free.") : HealthCheckResult.Healthy());
    }

    private sealed class BackupCheck(RunningNow running, NightlyWork nightly, TimeProvider time) : IHealthCheck
    {
        public Task<HealthCheckResult> CheckHealthAsync(HealthCheckContext context, CancellationToken cancellationToken = default)
        {
            var now = time.GetUtcNow().UtcDateTime;
            // A program that was just started on an empty folder has had no night yet.
            var old = now - (running.LastBackup?.MadeAt ?? running.Since) > RunningNow.OldBackup;
            return Task.FromResult(old || nightly.Failure is not null ? HealthCheckResult.Degraded("The last backup is older than a night.") : HealthCheckResult.Healthy());
        }
    }
}
