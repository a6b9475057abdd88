using System.Globalization;
using System.Net;
using System.Net.Sockets;
using ShopDiag.Obd.Frames;
using ShopDiag.Obd.Live;

namespace ShopDiag.Web.Obd;

/// <summary>
/// A link over an interface of Linux's SocketCAN, such as <c>can0</c>, which must be up at the bus's rate. Not exercised on a real bus by any test: there is none on a build machine; the
/// tester above it is exercised with a simulated control unit over a pair of streams that carry the same frames.
/// </summary>
public sealed class SocketCanLink : IObdLink
{
    private readonly Socket _socket;

    private SocketCanLink(Socket socket) => _socket = socket;

    /// <summary>Opens an interface by name. Throws <see cref="IOException"/> that says what is missing.</summary>
    public static SocketCanLink Open(string name)
    {
        ArgumentNullException.ThrowIfNull(name);
        if (!OperatingSystem.IsLinux() || !BitConverter.IsLittleEndian)
        {
            throw new IOException("A CAN interface can be read on Linux only. Elsewhere record a log and decode the file.");
        }

        var index = Index(name);
        Socket? socket = null;
        try
        {
            socket = new Socket(AddressFamily.ControllerAreaNetwork, SocketType.Raw, ProtocolType.Raw);
            socket.Bind(new CanEndPoint(index));
            return new SocketCanLink(socket);
        }
        catch (Exception e) when (e is SocketException or PlatformNotSupportedException)
        {
            socket?.Dispose();
            throw new IOException($"The interface '{name}' cannot be opened for CAN: {e.Message} Is it a CAN interface, is it up, and does the kernel offer CAN?", e);
        }
    }

    /// <inheritdoc/>
    public async Task SendAsync(CanFrame frame, CancellationToken cancel)
    {
        try
        {
            await _socket.SendAsync(SocketCanCodec.Write(frame), SocketFlags.None, cancel);
        }
        catch (SocketException e)
        {
            throw new IOException($"The bus did not take a frame: {e.Message} Is the adapter plugged in and the ignition on?", e);
        }
    }

    /// <inheritdoc/>
    public async Task<CanFrame?> ReceiveAsync(CancellationToken cancel)
    {
        // A raw CAN socket gives a whole frame a read, so that a wait called off tears none apart.
        var buffer = new byte[SocketCanCodec.Length];
        while (true)
        {
            try
            {
                var got = await _socket.ReceiveAsync(buffer, SocketFlags.None, cancel);
                if (got == 0)
                {
                    return null;
                }

                if (SocketCanCodec.Read(buffer.AsSpan(0, got)) is { } frame)
                {
                    return frame;
                }
            }
            catch (SocketException e)
            {
                throw new IOException($"The bus cannot be read: {e.Message}", e);
            }
        }
    }

    /// <inheritdoc/>
    public ValueTask DisposeAsync()
    {
        _socket.Dispose();
        return ValueTask.CompletedTask;
    }

    private static int Index(string name)
    {
        // The name becomes part of a path.
        var file = name.Length is > 0 and <= 15 && name.All(c => char.IsAsciiLetterOrDigit(c) || c is '_' or '-') ? $"/sys/class/net/{name}/ifindex" : "";
        return file.Length > 0 && File.Exists(file) && int.TryParse(File.ReadAllText(file).Trim(), NumberStyles.None, CultureInfo.InvariantCulture, out var index)
            ? index
            : throw new IOException($"There is no network interface '{name}' on this machine.");
    }

    /// <summary><c>struct sockaddr_can</c> of linux/can.h: family (2 bytes, set by the base), 2 unused, index of the interface (4 bytes), then addresses that raw CAN does not use.</summary>
    private sealed class CanEndPoint(int index) : EndPoint
    {
        private const int Size = 24;
        private const int IndexAt = 4;

        public override AddressFamily AddressFamily => AddressFamily.ControllerAreaNetwork;

        public override SocketAddress Serialize()
        {
            var address = new SocketAddress(AddressFamily.ControllerAreaNetwork, Size);
            for (var i = 0; i < sizeof(int); i++)
            {
                address[IndexAt + i] = (byte)(index >> (8 * i));
            }

            return address;
        }
    }
}
