using System.Net;
using Microsoft.AspNetCore.Builder;
using Microsoft.Extensions.DependencyInjection;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.People;
using ShopDiag.Storage.Shop;
using ShopDiag.Web.People;

namespace ShopDiag.Web.Tests.Integration;

/// <summary>The whole application on a real port of this machine and a data folder of its own, set up by an owner through the page for that.</summary>
public sealed class RunningShop : IAsyncLifetime
{
    /// <summary>Name of the owner, who is signed in at <see cref="Client"/>.</summary>
    public const string Owner = "Rosa";

    /// <summary>The password of everybody here.</summary>
    public const string Password = "seven-blue-wrenches";

    private readonly string _folder = Directory.CreateTempSubdirectory("shopdiag-run-").FullName;
    private WebApplication _app = null!;
    private AsyncServiceScope _scope;

    /// <summary>A browser in which the owner is signed in.</summary>
    public HttpClient Client { get; private set; } = null!;

    /// <summary>The cookies of <see cref="Client"/>, for a test that speaks in another way.</summary>
    public CookieContainer Cookies { get; } = new();

    public string DataFolder => _folder;

    public IEnumerable<string> Urls => _app.Urls;

    public int OrderNumber { get; private set; }

    /// <summary>Services that act as the program itself.</summary>
    public IServiceProvider Services => _scope.ServiceProvider;

    public WebApplication App => _app;

    /// <summary>Settings, as <c>--Section:Key value</c>.</summary>
    public string[] Settings { get; init; } = [];

    public async ValueTask InitializeAsync()
    {
        var options = new ServeOptions(_folder, "http://127.0.0.1:0", Demo: false, Settings);
        _app = WebApp.Build(options);
        _app.Services.GetRequiredService<SetUpCode>().Write = _ => { };
        await WebApp.OpenAsync(_app, options);
        _scope = _app.Services.CreateProgramScope();
        await Services.GetRequiredService<ShopStore>().SaveAsync(new ShopSettings { Name = "Ann & Sons <Garage>" });
        OrderNumber = (await Services.GetRequiredService<OrderStore>().OpenAsync(Guid.NewGuid(), "Ann")).Number;
        await _app.StartAsync();
        Client = NewBrowser(Cookies);
        await Client.SetUpAsync(Services.GetRequiredService<SetUpCode>().Current, Owner, "rosa", Password);
    }

    /// <summary>A browser in which nobody is signed in.</summary>
    public HttpClient NewBrowser(CookieContainer? cookies = null) => new(new HttpClientHandler { AllowAutoRedirect = false, CookieContainer = cookies ?? new() }) { BaseAddress = new Uri(_app.Urls.Single()) };

    /// <summary>Lets somebody of a role in, added for it, and signs them in through the page.</summary>
    public async Task<HttpClient> BrowserOfAsync(PersonRole role)
    {
        var login = $"{role}-{Guid.NewGuid():N}".ToLowerInvariant();
        var (people, id) = (Services.GetRequiredService<PeopleStore>(), Guid.NewGuid());
        var hash = Services.GetRequiredService<Passwords>().Hash(Password);
        await people.AddAsync(id, login, login, role, hash);
        // As after the first sign-in, when the handed-over password was changed.
        await Services.GetRequiredService<PeopleDirectory>().ChangeAsync(id, (p, _) => p with { MustChangePassword = false }, Actor.Program, null);
        var browser = NewBrowser();
        await browser.SignInAsync(login, Password);
        return browser;
    }

    public async ValueTask DisposeAsync()
    {
        Client.Dispose();
        await _scope.DisposeAsync();
        await _app.StopAsync();
        await _app.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }
}
