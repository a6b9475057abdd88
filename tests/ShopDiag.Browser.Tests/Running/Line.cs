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

    public void Mend() => _cut = false;

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
                await Task.WhenAny(tablet.GetStream().CopyToAsync(server.GetStream()), server.GetStream().CopyToAsync(tablet.GetStream()));
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
