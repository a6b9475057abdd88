using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.DependencyInjection.Extensions;
using ShopDiag.Storage.Backups;
using ShopDiag.Storage.Audit;
using ShopDiag.Storage.Comebacks;
using ShopDiag.Storage.Data;
using ShopDiag.Storage.Estimates;
using ShopDiag.Storage.Learning;
using ShopDiag.Storage.Opening;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Personal;
using ShopDiag.Storage.People;
using ShopDiag.Storage.Photos;
using ShopDiag.Storage.Programs;
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
    /// <see cref="TimeProvider"/> among the services, the system's unless one was added before. The stores that write belong to a scope and act for whoever <see cref="IActing"/> says;
    /// that is the program itself unless one was added before.
    /// </summary>
    public static IServiceCollection AddShopStorage(this IServiceCollection services, string dataFolder)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(dataFolder);
        services.TryAddSingleton(TimeProvider.System);
        services.TryAddScoped<IActing, ProgramActing>();
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
            .AddScoped(s => new OrderStore(Contexts(s), Writer(s)))
            .AddScoped(s => new RecordingStore(Contexts(s), Writer(s), new(s.GetRequiredService<ShopFolder>())))
            .AddScoped(s => new EstimateStore(Writer(s)))
            .AddScoped(s => new PartStore(Contexts(s), Writer(s)))
            .AddScoped(s => new PriceStore(Contexts(s), Writer(s)))
            .AddScoped(s => new PhotoStore(Contexts(s), Writer(s), new(s.GetRequiredService<ShopFolder>())))
            .AddSingleton(s => new BackupStore(
                s.GetRequiredService<ShopFolder>(), s.GetRequiredService<BackupFolder>(), s.GetRequiredService<BackupMaker>(), s.GetRequiredService<WriteQueue>(),
                s.GetRequiredService<ChangeBus>(), Contexts(s), s.GetRequiredService<TimeProvider>()))
            .AddSingleton(s => new ShopData(s.GetRequiredService<ShopFolder>(), Contexts(s), s.GetRequiredService<WriteQueue>(), s.GetRequiredService<ChangeBus>()))
            .AddScoped(s => new CustomerStore(
                s.GetRequiredService<ShopFolder>(), Contexts(s), Writer(s), s.GetRequiredService<ShopData>(), s.GetRequiredService<TimeProvider>()))
            .AddScoped(s => new ShopLogo(Contexts(s), Writer(s)))
            .AddSingleton(s => new CaseStore(Contexts(s)))
            .AddSingleton(s => new AuditStore(Contexts(s)))
            .AddSingleton(s => new PeopleDirectory(Contexts(s), s.GetRequiredService<WriteQueue>(), s.GetRequiredService<ChangeBus>()))
            .AddScoped(s => new PeopleStore(Writer(s), s.GetRequiredService<PeopleDirectory>()))
            .AddSingleton(s => new TokenDirectory(Contexts(s), s.GetRequiredService<WriteQueue>(), s.GetRequiredService<PeopleDirectory>(), s.GetRequiredService<ChangeBus>()))
            .AddScoped(s => new TokenStore(Writer(s), s.GetRequiredService<TokenDirectory>()))
            .AddSingleton(s => new CaseShelf(Contexts(s), s.GetRequiredService<ChangeBus>()))
            .AddScoped(s => new ComebackStore(Contexts(s), Writer(s), s.GetRequiredService<CaseShelf>()))
            .AddScoped(s => new ShopStore(Contexts(s), Writer(s)));
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

    /// <summary>A store of recordings that acts for the program: for work that goes on when whoever began it has signed out.</summary>
    public static RecordingStore RecordingsOfProgram(this IServiceProvider services)
    {
        ArgumentNullException.ThrowIfNull(services);
        return new(Contexts(services), new ShopWriter(services.GetRequiredService<WriteQueue>(), new ProgramActing()), new(services.GetRequiredService<ShopFolder>()));
    }

    private static ShopWriter Writer(IServiceProvider services) => new(services.GetRequiredService<WriteQueue>(), services.GetRequiredService<IActing>());

    private static IDbContextFactory<ShopDb> Contexts(IServiceProvider services) => services.GetRequiredService<IDbContextFactory<ShopDb>>();
}
