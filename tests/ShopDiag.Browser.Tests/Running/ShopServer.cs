using System.Collections.Concurrent;
using System.Diagnostics;
using System.Net;
using System.Net.Sockets;

namespace ShopDiag.Browser.Tests.Running;

/// <summary>The real program as a process of its own, on a free port of this machine and a data folder that goes when the test goes.</summary>
public sealed class ShopServer : IAsyncDisposable
{
    private static readonly TimeSpan StartTime = TimeSpan.FromSeconds(240);
    private static readonly string Program = Path.Combine(AppContext.BaseDirectory, "ShopDiag.Web.dll");

    private readonly string _folder;
    private readonly ConcurrentQueue<string> _said = new();
    private readonly bool _demo;
    private readonly bool _toNetwork;
    private Process? _process;

    private ShopServer(bool demo, bool toNetwork, string? folder) =>
        (_demo, _toNetwork, _folder, Port) = (demo, toNetwork, folder ?? Directory.CreateTempSubdirectory("shopdiag-browser-").FullName, FreePort());

    public int Port { get; }

    public string Url => $"http://127.0.0.1:{Port}";

    /// <summary>The newest set-up code on the console.</summary>
    public string SetUpCode => _said.Last(line => line.StartsWith("Set-up code: ", StringComparison.Ordinal)).Split(' ')[2];

    /// <summary>Everything the program wrote, for the message of a test that fails.</summary>
    public string Log => string.Join('\n', _said);

    /// <summary>The data folder.</summary>
    public string Folder => _folder;

    /// <summary>Settings of the program, as environment variables (<c>Section__Key</c>), from the next start on.</summary>
    public Dictionary<string, string> Settings { get; } = [];

    /// <summary>Starts one; on a folder of its own unless one is given, which goes with the test too.</summary>
    public static async Task<ShopServer> StartAsync(bool demo = false, bool toNetwork = false, string? folder = null, params (string Name, string Value)[] settings)
    {
        var server = new ShopServer(demo, toNetwork, folder);
        foreach (var (name, value) in settings)
        {
            server.Settings[name] = value;
        }

        await server.StartAgainAsync();
        return server;
    }

    /// <summary>Starts the program on the same port and the same data folder as before.</summary>
    public async Task StartAgainAsync()
    {
        var start = new ProcessStartInfo("dotnet", [Program, "serve", "--data", _folder, "--urls", _toNetwork ? $"http://0.0.0.0:{Port}" : Url, .. _demo ? ["--demo"] : Array.Empty<string>()])
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        start.Environment["ASPNETCORE_ENVIRONMENT"] = "Production";
        foreach (var (name, value) in Settings)
        {
            start.Environment[name] = value;
        }

        _process = Process.Start(start) ?? throw new InvalidOperationException("The program did not start.");
        _process.OutputDataReceived += (_, e) => Heard(e.Data);
        _process.ErrorDataReceived += (_, e) => Heard(e.Data);
        _process.BeginOutputReadLine();
        _process.BeginErrorReadLine();
        await AnswersAsync(_process);
    }

    /// <summary>SIGKILL: no chance to write anything.</summary>
    public async Task KillAsync()
    {
        if (_process is { HasExited: false } running)
        {
            running.Kill();
            await running.WaitForExitAsync();
        }

        _process?.Dispose();
        _process = null;
    }

    /// <summary>SIGTERM: as a service manager stops it.</summary>
    public async Task StopAsync()
    {
        using (var kill = Process.Start("kill", ["-TERM", _process!.Id.ToString(System.Globalization.CultureInfo.InvariantCulture)]))
        {
            await kill.WaitForExitAsync();
        }

        await _process.WaitForExitAsync();
        _process.Dispose();
        _process = null;
    }

    public async ValueTask DisposeAsync()
    {
        await KillAsync();
        Directory.Delete(_folder, recursive: true);
    }

    /// <summary>
    /// Below the ports that the machine gives to outgoing connections (32768 and up on Linux): one of those could be taken by a tablet before the program listens, or while it is down.
    /// </summary>
    internal static int FreePort()
    {
        while (true)
        {
            var port = Random.Shared.Next(20_000, 32_000);
            try
            {
                using var listener = new TcpListener(IPAddress.Any, port);
                listener.Start();
                return port;
            }
            catch (SocketException)
            {
                // Somebody's.
            }
        }
    }

    private async Task AnswersAsync(Process running)
    {
        using var client = new HttpClient { BaseAddress = new Uri(Url), Timeout = TimeSpan.FromSeconds(5) };
        var since = Stopwatch.StartNew();
        while (since.Elapsed < StartTime && !running.HasExited)
        {
            try
            {
                using var answer = await client.GetAsync(new Uri("/health/live", UriKind.Relative));
                if (answer.IsSuccessStatusCode)
                {
                    return;
                }
            }
            catch (Exception e) when (e is HttpRequestException or TaskCanceledException)
            {
                // Not listening yet.
            }

            await Task.Delay(50);
        }

        throw new InvalidOperationException($"The program does not answer at {Url}:\n{Log}");
    }

    private void Heard(string? line)
    {
        if (line is not null)
        {
            _said.Enqueue(line);
        }
    }
}
