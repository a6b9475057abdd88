using Microsoft.AspNetCore.Components.Server.Circuits;
using ShopDiag.Storage.Backups;

namespace ShopDiag.Web.Keeping;

/// <summary>What keeping the records and running the program need.</summary>
public static class KeepingServices
{
    /// <summary>Adds the desk for backups, the nightly work, the watch over the disk and what the owner's pages say.</summary>
    public static IServiceCollection AddKeeping(this IServiceCollection services, string dataFolder) => services
        .AddSingleton<BackupDesk>()
        .AddSingleton<NightlyWork>()
        .AddHostedService(s => s.GetRequiredService<NightlyWork>())
        .AddHostedService<TroubleWatch>()
        .AddSingleton<ConnectedTablets>()
        .AddSingleton(s => new RunningNow(dataFolder, s.GetRequiredService<BackupStore>(), s.GetRequiredService<TimeProvider>()))
        .AddScoped<CircuitHandler, TabletWatch>();
}
