using Microsoft.AspNetCore.Components.Server.Circuits;
using ShopDiag.Storage.Backups;
using ShopDiag.Storage.Personal;
using ShopDiag.Storage.Shop;
using ShopDiag.Storage.Writing;
using ShopDiag.Web.People;

namespace ShopDiag.Web.Keeping;

/// <summary>What keeping the records and running the program need.</summary>
public static class KeepingServices
{
    /// <summary>Adds the desk for backups, the nightly work, the watch over the disk and what the owner's pages say.</summary>
    public static IServiceCollection AddKeeping(this IServiceCollection services, string dataFolder) => services
        .AddSingleton<BackupDesk>()
        .AddSingleton<ProgramScope>()
        .AddSingleton(s => new NightlyWork(
            s.GetRequiredService<BackupStore>(), s.OfProgram<CustomerStore>(), s.OfProgram<ShopStore>(), s.GetRequiredService<TimeProvider>(), s.GetRequiredService<ILogger<NightlyWork>>()))
        .AddHostedService(s => s.GetRequiredService<NightlyWork>())
        .AddHostedService(s => new TroubleWatch(s.GetRequiredService<StorageTrouble>(), s.OfProgram<ShopStore>(), s.GetRequiredService<TimeProvider>()))
        .AddSingleton<ConnectedTablets>()
        .AddSingleton(s => new RunningNow(dataFolder, s.GetRequiredService<BackupStore>(), s.GetRequiredService<TimeProvider>()))
        .AddScoped<CircuitHandler, TabletWatch>();
}
