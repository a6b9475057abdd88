using Bunit;
using Microsoft.Extensions.DependencyInjection;
using ShopDiag.Diagnosis;
using ShopDiag.Storage;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Shop;
using ShopDiag.Web.Components.WorkupViews;
using ShopDiag.Web.Orders;
using ShopDiag.Web.Photos;
using ShopDiag.Web.Saving;
using ShopDiag.Web.Tests.WorkupViews;

namespace ShopDiag.Web.Tests.Support;

/// <summary>A page of one order, a V6, over a real database in a folder of its own.</summary>
public abstract class OrderPageTest(ShopSettings settings) : BunitContext, IAsyncLifetime
{
    private readonly string _folder = Directory.CreateTempSubdirectory("shopdiag-page-").FullName;

    /// <summary>The order's id.</summary>
    protected Guid Order { get; } = Guid.NewGuid();

    /// <summary>The order's number.</summary>
    protected int Number { get; private set; }

    protected OrderStore Orders => Services.GetRequiredService<OrderStore>();

    public async ValueTask InitializeAsync()
    {
        JSInterop.Mode = JSRuntimeMode.Loose;
        Services.AddLogging().AddShopStorage(_folder).AddSingleton(Knowledge.Shipped).AddSingleton(TimeProvider.System)
            .AddScoped<CommandJournal>().AddScoped<DraftReplay>().AddScoped<Tablet>().AddOrderPages().AddWorkupPage().AddPhotos();
        await Services.OpenShopAsync();
        await Services.GetRequiredService<ShopStore>().SaveAsync(settings);
        Number = (await Orders.OpenAsync(Order, "Lena")).Number;
        await Orders.SetEngineAsync(Order, ABench.V6Spec, "V6", Guid.NewGuid(), "Lena");
    }

    async ValueTask IAsyncDisposable.DisposeAsync()
    {
        await DisposeAsync();
        Directory.Delete(_folder, recursive: true);
        GC.SuppressFinalize(this);
    }
}
