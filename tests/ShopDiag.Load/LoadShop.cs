using System.Diagnostics;
using System.Net;
using System.Net.Sockets;
using System.Text.RegularExpressions;
using Microsoft.Extensions.DependencyInjection;
using ShopDiag.Diagnosis;
using ShopDiag.Storage;
using ShopDiag.Storage.Orders;

namespace ShopDiag.Load;

/// <summary>The program as a process of its own, on the demo shop and an order with an eight-cylinder engine for each tablet, in a folder that goes at the end.</summary>
internal sealed partial class LoadShop : IAsyncDisposable
{
    private const string Engine = "v8-18726543-coil-near-plug";
    private static readonly string Program = Path.Combine(AppContext.BaseDirectory, "ShopDiag.Web.dll");
    private static readonly TimeSpan StartTime = TimeSpan.FromSeconds(120);

    private readonly string _folder = Directory.CreateTempSubdirectory("shopdiag-load-").FullName;
    private readonly Uri _server;
    private Process? _process;

    private LoadShop()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        _server = new($"http://127.0.0.1:{((IPEndPoint)listener.LocalEndpoint).Port}/");
    }

    public Uri Server => _server;

    /// <summary>Numbers of the orders, one for each tablet.</summary>
    public int[] Orders { get; private set; } = [];

    /// <summary>Memory of the server's process, in bytes.</summary>
    public long Resident
    {
        get
        {
            _process!.Refresh();
            return _process.WorkingSet64;
        }
    }

    /// <summary>Time of the processor that the server has used.</summary>
    public TimeSpan Processor
    {
        get
        {
            _process!.Refresh();
            return _process.TotalProcessorTime;
        }
    }

    public static async Task<LoadShop> StartAsync(int orders)
    {
        var shop = new LoadShop();
        // The demo shop writes itself at its first start.
        await shop.ServeAsync();
        shop.Stop();
        await shop.OpenOrdersAsync(orders);
        await shop.ServeAsync();
        return shop;
    }

    /// <summary>Signs somebody of the demo shop in.</summary>
    public async Task<CookieContainer> SignInAsync(string login)
    {
        var jar = new CookieContainer();
        using var client = new HttpClient(new HttpClientHandler { CookieContainer = jar, AllowAutoRedirect = false }) { BaseAddress = _server };
        var page = await client.GetStringAsync(new Uri("sign-in", UriKind.Relative));
        using var form = new FormUrlEncodedContent(
            [new("_handler", "sign-in"), new("__RequestVerificationToken", WebUtility.HtmlDecode(Token().Match(page).Groups[1].Value)), new("Login", login), new("Password", Demo)]);
        using var answer = await client.PostAsync(new Uri("sign-in", UriKind.Relative), form);
        return answer.StatusCode == HttpStatusCode.Redirect ? jar : throw new InvalidOperationException($"{login} could not sign in: {answer.StatusCode}");
    }

    /// <summary>Stops the server and counts the readings in its records.</summary>
    public async Task<int> ReadingsAsync()
    {
        Stop();
        await using var services = Services();
        await services.OpenShopAsync();
        await using var scope = services.CreateAsyncScope();
        var store = scope.ServiceProvider.GetRequiredService<OrderStore>();
        var count = 0;
        foreach (var number in Orders)
        {
            count += (await store.GetByNumberAsync(number))!.Readings.Length;
        }

        return count;
    }

    public ValueTask DisposeAsync()
    {
        Stop();
        Directory.Delete(_folder, recursive: true);
        return ValueTask.CompletedTask;
    }

    private ServiceProvider Services() => new ServiceCollection().AddLogging().AddSingleton(Knowledge.Shipped).AddShopStorage(_folder).BuildServiceProvider();

    private async Task OpenOrdersAsync(int orders)
    {
        await using var services = Services();
        await services.OpenShopAsync();
        await using var scope = services.CreateAsyncScope();
        var store = scope.ServiceProvider.GetRequiredService<OrderStore>();
        var profile = Knowledge.Shipped.Profiles.Single(p => p.Id == Engine);
        List<int> numbers = [];
        for (var i = 0; i < orders; i++)
        {
            var id = Guid.CreateVersion7();
            numbers.Add((await store.OpenAsync(id, "Ruth")).Number);
            await store.SetEngineAsync(id, profile.Spec, profile.Title, Guid.CreateVersion7(), "Ruth");
        }

        Orders = [.. numbers];
    }

    private async Task ServeAsync()
    {
        var start = new ProcessStartInfo("dotnet", [Program, "serve", "--data", _folder, "--urls", _server.AbsoluteUri, "--demo"]) { RedirectStandardOutput = true, RedirectStandardError = true };
        start.Environment["ASPNETCORE_ENVIRONMENT"] = "Production";
        // All tablets have one address here.
        start.Environment["Limits__Other"] = "1000000";
        _process = Process.Start(start)!;
        // Nobody reads it, but it has to go somewhere.
        _process.OutputDataReceived += static (_, _) => { };
        _process.ErrorDataReceived += static (_, e) => Console.Error.Write(e.Data is null ? "" : e.Data + "\n");
        _process.BeginOutputReadLine();
        _process.BeginErrorReadLine();
        using var client = new HttpClient { BaseAddress = _server, Timeout = TimeSpan.FromSeconds(5) };
        for (var since = Stopwatch.StartNew(); ; await Task.Delay(100))
        {
            try
            {
                using var answer = await client.GetAsync(new Uri("health/live", UriKind.Relative));
                if (answer.IsSuccessStatusCode)
                {
                    return;
                }
            }
            catch (Exception e) when (e is HttpRequestException or TaskCanceledException && since.Elapsed < StartTime && !_process.HasExited)
            {
                // Not listening yet.
            }
        }
    }

    private void Stop()
    {
        if (_process is { HasExited: false } running)
        {
            running.Kill();
            running.WaitForExit();
        }

        _process?.Dispose();
        _process = null;
    }

    // Of everybody in the demo shop.
    private const string Demo = "lift-two-wobbles";

    [GeneratedRegex(@"name=""__RequestVerificationToken"" value=""([^""]+)""")]
    private static partial Regex Token();
}
