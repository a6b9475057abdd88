using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.DependencyInjection.Extensions;
using ShopDiag.Storage.Backups;
using ShopDiag.Storage.Comebacks;
using ShopDiag.Storage.Data;
using ShopDiag.Storage.Estimates;
using ShopDiag.Storage.Learning;
using ShopDiag.Storage.Opening;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Personal;
using ShopDiag.Storage.Photos;
using ShopDiag.Storage.Recordings;
using ShopDiag.Storage.Rows;
using ShopDiag.Storage.Shop;
using ShopDiag.Storage.Writing;

namespace ShopDiag.Storage;

/// <summary>Puts storage into a program.</summary>
public static class StorageServices
{
    /// <summary>
    /// Adds the stores on a data folder (see <see cref="DataFolder.Resolve(string?)"/>); the folder is made when missing. The clock is the
    /// <see cref="TimeProvider"/> among the services, the system's unless one was added before.
    /// </summary>
    public static IServiceCollection AddShopStorage(this IServiceCollection services, string dataFolder)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(dataFolder);
        services.TryAddSingleton(TimeProvider.System);
        return services
            .AddSingleton(_ => new ShopFolder(dataFolder))
            .AddSingleton<ShopDbFactory>()
            .AddSingleton<IDbContextFactory<ShopDb>>(s => s.GetRequiredService<ShopDbFactory>())
            .AddSingleton(_ => new BackupFolder(BackupFolder.Resolve(dataFolder)))
            .AddSingleton<BackupMaker>()
            .AddSingleton<ShopOpening>()
            .AddSingleton<StorageTrouble>()
            .AddSingleton<ChangeBus>()
            .AddSingleton<WriteQueue>()
            .AddSingleton(s => new OrderStore(Contexts(s), s.GetRequiredService<WriteQueue>()))
            .AddSingleton(s => new RecordingStore(Contexts(s), s.GetRequiredService<WriteQueue>(), new(s.GetRequiredService<ShopFolder>())))
            .AddSingleton(s => new EstimateStore(s.GetRequiredService<WriteQueue>()))
            .AddSingleton(s => new PartStore(Contexts(s), s.GetRequiredService<WriteQueue>()))
            .AddSingleton(s => new PriceStore(Contexts(s), s.GetRequiredService<WriteQueue>()))
            .AddSingleton(s => new PhotoStore(Contexts(s), s.GetRequiredService<WriteQueue>(), new(s.GetRequiredService<ShopFolder>())))
            .AddSingleton(s => new ShopLogo(s.GetRequiredService<ShopFolder>()))
            .AddSingleton(s => new BackupStore(
                s.GetRequiredService<ShopFolder>(), s.GetRequiredService<BackupFolder>(), s.GetRequiredService<BackupMaker>(), s.GetRequiredService<WriteQueue>(),
                s.GetRequiredService<ChangeBus>(), Contexts(s), s.GetRequiredService<TimeProvider>()))
            .AddSingleton(s => new ShopData(s.GetRequiredService<ShopFolder>(), Contexts(s), s.GetRequiredService<WriteQueue>(), s.GetRequiredService<ChangeBus>()))
            .AddSingleton(s => new CustomerStore(
                s.GetRequiredService<ShopFolder>(), Contexts(s), s.GetRequiredService<WriteQueue>(), s.GetRequiredService<ShopData>(), s.GetRequiredService<TimeProvider>()))
            .AddSingleton(s => new CaseStore(Contexts(s)))
            .AddSingleton(s => new CaseShelf(Contexts(s), s.GetRequiredService<ChangeBus>()))
            .AddSingleton(s => new ComebackStore(Contexts(s), s.GetRequiredService<WriteQueue>(), s.GetRequiredService<CaseShelf>()))
            .AddSingleton(s => new ShopStore(Contexts(s), s.GetRequiredService<WriteQueue>()));
    }

    /// <summary>
    /// Takes the data folder for this process and brings the database up to date, before the first request. Survives an abandoned
    /// migration lock. Throws <see cref="DataFolderException"/>, whose message is meant for the person at the screen, when the folder is in
    /// use by another process, cannot be written, or was written by a newer version. The folder is let go when the services are disposed of.
    /// </summary>
    public static Task OpenShopAsync(this IServiceProvider services, CancellationToken cancel = default) =>
        services.GetRequiredService<ShopOpening>().OpenAsync(cancel);

    /// <summary>
    /// Makes the records readable without taking the folder, also while another process serves it. Throws <see cref="DataFolderException"/>
    /// when there are none or they are of another version.
    /// </summary>
    public static Task OpenShopForReadingAsync(this IServiceProvider services, CancellationToken cancel = default) =>
        services.GetRequiredService<ShopOpening>().OpenForReadingAsync(cancel);

    /// <summary>
    /// Takes the data folder to put a backup back: as <see cref="OpenShopAsync"/>, but damaged records are set aside and do not stand in the way. The folder that they are in now; null when there were none.
    /// </summary>
    public static Task<string?> OpenShopForRestoreAsync(this IServiceProvider services, CancellationToken cancel = default) =>
        services.GetRequiredService<ShopOpening>().OpenForRestoreAsync(cancel);

    private static IDbContextFactory<ShopDb> Contexts(IServiceProvider services) => services.GetRequiredService<IDbContextFactory<ShopDb>>();
}
