using System.Threading.Channels;
using ShopDiag.Obd.Frames;

namespace ShopDiag.Obd.Live;

/// <summary>
/// A link over two streams that carry frames as <see cref="SocketCanCodec"/> writes them, one after the other. Frames are taken in as they come and wait in a queue, so that a wait
/// that is called off does not tear one apart.
/// </summary>
public sealed class StreamObdLink : IObdLink
{
    /// <summary>Frames that may wait; beyond, the oldest are dropped, as a socket does.</summary>
    private const int MostWaiting = 4096;

    private readonly Stream _receive;
    private readonly Stream _send;
    private readonly Channel<CanFrame> _frames = Channel.CreateBounded<CanFrame>(new BoundedChannelOptions(MostWaiting) { FullMode = BoundedChannelFullMode.DropOldest });
    private readonly CancellationTokenSource _gone = new();
    private readonly Task _pump;

    /// <summary>Starts to listen. The streams are closed with the link.</summary>
    public StreamObdLink(Stream receive, Stream send)
    {
        ArgumentNullException.ThrowIfNull(receive);
        ArgumentNullException.ThrowIfNull(send);
        (_receive, _send) = (receive, send);
        _pump = PumpAsync();
    }

    /// <inheritdoc/>
    public async Task SendAsync(CanFrame frame, CancellationToken cancel)
    {
        await _send.WriteAsync(SocketCanCodec.Write(frame), cancel).ConfigureAwait(false);
        await _send.FlushAsync(cancel).ConfigureAwait(false);
    }

    /// <inheritdoc/>
    public async Task<CanFrame?> ReceiveAsync(CancellationToken cancel)
    {
        while (await _frames.Reader.WaitToReadAsync(cancel).ConfigureAwait(false))
        {
            if (_frames.Reader.TryRead(out var frame))
            {
                return frame;
            }
        }

        return null;
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        await _gone.CancelAsync().ConfigureAwait(false);
        await _receive.DisposeAsync().ConfigureAwait(false);
        await _send.DisposeAsync().ConfigureAwait(false);
        await _pump.ConfigureAwait(false);
        _gone.Dispose();
    }

    private async Task PumpAsync()
    {
        var buffer = new byte[SocketCanCodec.Length];
        try
        {
            while (true)
            {
                await _receive.ReadExactlyAsync(buffer, _gone.Token).ConfigureAwait(false);
                if (SocketCanCodec.Read(buffer) is { } frame)
                {
                    _frames.Writer.TryWrite(frame);
                }
            }
        }
        catch (Exception e) when (e is IOException or OperationCanceledException or ObjectDisposedException)
        {
            // The other end has closed, or this link was: what has come stays to be read, and then the link has ended.
        }
        finally
        {
            _frames.Writer.TryComplete();
        }
    }
}
