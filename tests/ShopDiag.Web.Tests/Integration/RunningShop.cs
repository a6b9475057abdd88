using Microsoft.AspNetCore.Builder;
using Microsoft.Extensions.DependencyInjection;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Shop;

namespace ShopDiag.Web.Tests.Integration;

/// <summary>The whole application on a real port of this machine and a data folder of its own.</summary>
public sealed class RunningShop : IAsyncLifetime
{
    private readonly string _folder = Directory.CreateTempSubdirectory("shopdiag-run-").FullName;
    private WebApplication _app = null!;

    public HttpClient Client { get; private set; } = null!;

    public string DataFolder => _folder;

    public IEnumerable<string> Urls => _app.Urls;

    public int OrderNumber { get; private set; }

    public IServiceProvider Services => _app.Services;

    /// <summary>Settings, as <c>--Section:Key value</c>.</summary>
    public string[] Settings { get; init; } = [];

    public async ValueTask InitializeAsync()
    {
        var options = new ServeOptions(_folder, "http://127.0.0.1:0", Demo: false, Settings);
        _app = WebApp.Build(options);
        await WebApp.OpenAsync(_app, options);
        await _app.Services.GetRequiredService<ShopStore>().SaveAsync(new ShopSettings { Name = "Ann & Sons <Garage>" });
        OrderNumber = (await _app.Services.GetRequiredService<OrderStore>().OpenAsync(Guid.NewGuid(), "Ann")).Number;
        await _app.StartAsync();
        Client = new HttpClient(new HttpClientHandler { AllowAutoRedirect = false }) { BaseAddress = new Uri(_app.Urls.Single()) };
    }

    public async ValueTask DisposeAsync()
    {
        Client.Dispose();
        await _app.StopAsync();
        await _app.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }
}
