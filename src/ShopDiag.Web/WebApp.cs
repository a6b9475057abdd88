using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.HostFiltering;
using MudBlazor.Services;
using ShopDiag.Diagnosis;
using ShopDiag.Storage.Opening;
using ShopDiag.Storage;
using ShopDiag.Storage.Comebacks;
using ShopDiag.Storage.People;
using ShopDiag.Storage.Photos;
using ShopDiag.Storage.Recordings;
using ShopDiag.Storage.Shop;
using ShopDiag.Storage.Writing;
using ShopDiag.Web.Api;
using ShopDiag.Web.BalanceRuns;
using ShopDiag.Web.Components;
using ShopDiag.Web.Components.WorkupViews;
using ShopDiag.Web.Estimates;
using ShopDiag.Web.Https;
using ShopDiag.Web.Keeping;
using ShopDiag.Web.Orders;
using ShopDiag.Web.Owner;
using ShopDiag.Web.Papers;
using ShopDiag.Web.Parts;
using ShopDiag.Web.Prices;
using ShopDiag.Web.People;
using ShopDiag.Web.Photos;
using ShopDiag.Web.Running;
using ShopDiag.Web.Saving;
using ShopDiag.Web.Waveforms;

namespace ShopDiag.Web;

/// <summary>Puts the web application together.</summary>
public static class WebApp
{
    // A circuit that lost its connection is kept for a walk to the parts shelf; after that the page begins again from the database and the journal.
    private static readonly TimeSpan KeepDisconnected = TimeSpan.FromMinutes(10);

    // Wi-Fi in a workshop dies silently. connection.js uses the same two times; the second must be at least twice the first.
    private static readonly TimeSpan KeepAlive = TimeSpan.FromSeconds(3);
    private static readonly TimeSpan GiveUp = TimeSpan.FromSeconds(9);

    // The longest text of a field in letters of three bytes, with what stood there before, comes to 50 kB. A longer message ends the circuit, and the journal would send it again for ever.
    private const long LargestMessage = 128 * 1024;

    /// <summary>Builds the application; nothing is opened or listened on yet.</summary>
    public static WebApplication Build(ServeOptions options)
    {
        ArgumentNullException.ThrowIfNull(options);
        var builder = WebApplication.CreateBuilder(new WebApplicationOptions
        {
            Args = options.Args,
            ApplicationName = typeof(WebApp).Assembly.GetName().Name,
            ContentRootPath = AppContext.BaseDirectory,
        });
        builder.WebHost.UseUrls(options.Urls).ConfigureKestrel(kestrel => kestrel.AddServerHeader = false);
        if (options.Https)
        {
            builder.Services.AddSingleton(s => new ShopCertificate(options.DataFolder, s.GetRequiredService<TimeProvider>()));
            builder.WebHost.ConfigureKestrel(kestrel => kestrel.ConfigureHttpsDefaults(https =>
            {
                var certificate = kestrel.ApplicationServices.GetRequiredService<ShopCertificate>();
                https.ServerCertificateSelector = (_, _) => certificate.Current();
            }));
        }

        builder.WebHost.UseStaticWebAssets();
        builder.Services.AddRunning(builder.Configuration);
        AddServices(builder.Services, options, builder.Configuration.GetSection("Circuit"), builder.Environment.IsDevelopment());
        var app = builder.Build();
        UsePipeline(app, options);
        return app;
    }

    /// <summary>Builds, opens the data folder, says where, and serves until stopped.</summary>
    public static async Task RunAsync(ServeOptions options)
    {
        await using var app = Build(options);
        await OpenAsync(app, options);
        await app.StartAsync();
        Console.WriteLine(StartLine(app, options));
        // Writes it on the console while there is nobody yet.
        _ = app.Services.GetRequiredService<SetUpCode>().Current;
        await app.WaitForShutdownAsync();
    }

    /// <summary>Brings the database up to date and, when asked, fills an empty data folder with the demo shop.</summary>
    public static async Task OpenAsync(WebApplication app, ServeOptions options)
    {
        ArgumentNullException.ThrowIfNull(app);
        ArgumentNullException.ThrowIfNull(options);
        await app.Services.OpenShopAsync();
        OwnerOnly.MakeFolder(Path.Combine(options.DataFolder, "keys"), close: true);
        await using var scope = app.Services.CreateProgramScope();
        // What can only be read is opened as it is.
        if (app.Services.GetRequiredService<StorageTrouble>().Message is null)
        {
            await scope.ServiceProvider.GetRequiredService<RecordingStore>().SweepAsync();
            await scope.ServiceProvider.GetRequiredService<PhotoStore>().SweepAsync();
            app.Services.GetRequiredService<WaveformUploads>().Sweep();
        }

        var shops = scope.ServiceProvider.GetRequiredService<ShopStore>();
        if (options.Demo && await shops.GetAsync() is null)
        {
            await shops.LoadDemoAsync();
        }

        var people = app.Services.GetRequiredService<PeopleDirectory>();
        if (options.Demo && people.IsEmpty && await shops.GetAsync() is { IsDemo: true })
        {
            await Demo.AddAsync(people, app.Services.GetRequiredService<Passwords>(), app.Services.GetRequiredService<Pins>());
        }
    }

    private static void AddServices(IServiceCollection services, ServeOptions options, IConfiguration circuits, bool development)
    {
        services.AddRazorComponents().AddInteractiveServerComponents(circuit =>
        {
            circuit.DetailedErrors = development;
            circuit.DisconnectedCircuitRetentionPeriod = KeepDisconnected;
            circuit.DisconnectedCircuitMaxRetained = 50;
            circuit.JSInteropDefaultCallTimeout = TimeSpan.FromSeconds(30);
            circuit.MaxBufferedUnacknowledgedRenderBatches = 10;
            circuits.Bind(circuit);
        }).AddHubOptions(hub =>
        {
            hub.KeepAliveInterval = KeepAlive;
            hub.ClientTimeoutInterval = GiveUp;
            hub.MaximumReceiveMessageSize = LargestMessage;
        });
        services.AddMudServices();
        services.AddPeople(options.DataFolder);
        services.AddShopStorage(options.DataFolder);
        services.AddSingleton(Knowledge.Shipped).AddSingleton(TimeProvider.System).AddScoped<PaperMaker>();
        services.AddScoped<CommandJournal>().AddScoped<DraftReplay>().AddScoped<Tablet>().AddOrderPages().AddEstimatePages().AddWorkupPage();
        services.AddPartPages().AddPricePage().AddPhotos();
        services.AddHostedService(s => new CaseWarming(s.OfProgram<ComebackStore>(), s.OfProgram<ShopStore>(), s.GetRequiredService<TimeProvider>(), s.GetRequiredService<ILogger<CaseWarming>>()));
        services.AddKeeping(options.DataFolder).AddProgramInterface();
        // A run goes on and is kept when whoever began it has signed out.
        services.AddSingleton(s => new LiveRuns(s.RecordingsOfProgram(), s.GetRequiredService<TimeProvider>(), s.GetRequiredService<ILogger<LiveRuns>>()));
        services.AddSingleton(new WaveformUploads(options.DataFolder));
        // Kept beside the database: without them every restart would break the pages that are open.
        services.AddDataProtection().SetApplicationName("ShopDiag").PersistKeysToFileSystem(new DirectoryInfo(Path.Combine(options.DataFolder, "keys")));
        if (options.LoopbackOnly)
        {
            // A web page from elsewhere must not reach this one by a host name that it points at 127.0.0.1.
            services.Configure<HostFilteringOptions>(o => o.AllowedHosts = ["localhost", "127.0.0.1", "[::1]"]);
        }
    }

    private static void UsePipeline(WebApplication app, ServeOptions options)
    {
        if (options is { Https: true, PlainLoopbackOnly: true })
        {
            app.UsePlainOnLoopbackOnly();
            // Public by its nature: a tablet needs it before anybody can sign in on it.
            app.MapGet("/shop-certificate.crt", (ShopCertificate certificate) => TypedResults.Bytes(certificate.Authority, "application/x-x509-ca-cert", "shop-certificate.crt")).AllowAnonymous();
        }

        app.UseSecurityHeaders();
        app.UseOwnPagesOnly();
        app.UseExceptionHandler("/error", createScopeForErrors: true);
        app.UseStorageTrouble();
        // Words for a person. A script wants the number alone, and the page of words would not take what was sent with a POST.
        app.UseWhen(http => SignInCookie.IsPage(http.Request), page => page.UseStatusCodePagesWithReExecute("/not-found", createScopeForStatusCodePages: true));
        app.UseApiProblems();
        app.UsePeople();
        app.UseAntiforgery();
        app.MapStaticAssets().AllowAnonymous();
        app.MapGet("/health/live", () => "ok").AllowAnonymous();
        app.MapShopHealth();
        app.MapPeople();
        app.MapPasskeys();
        app.MapPapers();
        app.MapOwner();
        app.MapPrices();
        app.MapRecordings();
        app.MapPhotos();
        app.MapWaveforms();
        app.MapKeeping();
        app.MapTabletKey();
        app.MapProgramInterface();
        // Our own header forbids framing altogether; the framework's would say 'self'.
        app.MapRazorComponents<App>().AddInteractiveServerRenderMode(o => o.ContentSecurityFrameAncestorsPolicy = null);
    }

    private static string StartLine(WebApplication app, ServeOptions options)
    {
        var people = app.Services.GetRequiredService<PeopleDirectory>();
        var unsafeDemo = !options.LoopbackOnly && Demo.WorksHere(people, app.Services.GetRequiredService<Passwords>());
        return $"ShopDiag at {string.Join(" ", app.Urls)}, data in {options.DataFolder}." + (people.IsEmpty
            ? " It answers this computer only until somebody is its owner."
            : unsafeDemo ? " Warning: the passwords of the demo shop stand on its sign-in page, and everyone who reaches this address can read and change everything." : "") + HttpsLine(app, options);
    }

    private static string HttpsLine(WebApplication app, ServeOptions options)
    {
        if (!options.Https)
        {
            return "";
        }

        var ports = app.Urls.Select(u => BindingAddress.Parse(u)).Where(a => a.Scheme == "https").Select(a => a.Port);
        return $"{Environment.NewLine}{NetworkNames.Now().TabletLine([.. ports])} Each tablet has to trust {app.Services.GetRequiredService<ShopCertificate>().AuthorityFile} once (docs/https.md).";
    }
}
