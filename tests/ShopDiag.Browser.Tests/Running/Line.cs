using System.Collections.Concurrent;
using System.Net;
using System.Net.Sockets;

namespace ShopDiag.Browser.Tests.Running;

/// <summary>The line between tablet and server, which a test can cut and mend: what workshop Wi-Fi does all day.</summary>
public sealed class Line : IDisposable
{
    private readonly TcpListener _listener = new(IPAddress.Loopback, 0);
    private readonly ConcurrentDictionary<TcpClient, bool> _open = new();
    private readonly int _to;
    private volatile bool _cut;
    private volatile bool _silent;

    public Line(int to)
    {
        _to = to;
        _listener.Start();
        _ = AcceptAsync();
    }

    public string Url => $"http://127.0.0.1:{((IPEndPoint)_listener.LocalEndpoint).Port}";

    /// <summary>Resets every connection and every later attempt.</summary>
    public void Cut()
    {
        _cut = true;
        foreach (var end in _open.Keys)
        {
            Reset(end);
        }
    }

    /// <summary>Nothing arrives any more and nobody says so: a tablet carried out of reach.</summary>
    public void Silence() => _silent = true;

    public void Mend() => _cut = _silent = false;

    public void Dispose()
    {
        _listener.Dispose();
        Cut();
    }

    private async Task AcceptAsync()
    {
        try
        {
            while (true)
            {
                _ = JoinAsync(await _listener.AcceptTcpClientAsync());
            }
        }
        catch (Exception e) when (e is SocketException or ObjectDisposedException)
        {
            // The test is over.
        }
    }

    private async Task JoinAsync(TcpClient tablet)
    {
        using var server = new TcpClient();
        try
        {
            _open[tablet] = _open[server] = true;
            await server.ConnectAsync(IPAddress.Loopback, _to);
            if (!_cut)
            {
                await Task.WhenAny(CarryAsync(tablet.GetStream(), server.GetStream()), CarryAsync(server.GetStream(), tablet.GetStream()));
            }
        }
        catch (Exception e) when (e is IOException or SocketException or ObjectDisposedException or InvalidOperationException)
        {
            // Cut while connecting, or the server is away.
        }
        finally
        {
            Reset(tablet);
            Reset(server);
        }
    }

    private async Task CarryAsync(NetworkStream from, NetworkStream to)
    {
        var block = new byte[16 * 1024];
        int read;
        while ((read = await from.ReadAsync(block)) > 0)
        {
            while (_silent)
            {
                await Task.Delay(20);
            }

            await to.WriteAsync(block.AsMemory(0, read));
        }
    }

    private void Reset(TcpClient end)
    {
        if (_open.TryRemove(end, out _))
        {
            try
            {
                end.LingerState = new LingerOption(_cut, 0);
            }
            catch (Exception e) when (e is SocketException or ObjectDisposedException or NullReferenceException)
            {
                // Gone already.
            }

            end.Dispose();
        }
    }
}
