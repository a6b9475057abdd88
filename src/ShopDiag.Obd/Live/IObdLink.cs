using ShopDiag.Obd.Frames;

namespace ShopDiag.Obd.Live;

/// <summary>A way to a car's bus: frames out and in. Whoever makes it does the I/O.</summary>
public interface IObdLink : IAsyncDisposable
{
    /// <summary>Puts a frame on the bus. Throws <see cref="IOException"/> when the link is broken.</summary>
    Task SendAsync(CanFrame frame, CancellationToken cancel);

    /// <summary>The next frame on the bus, or null when the link has ended. A wait that is called off loses no frame.</summary>
    Task<CanFrame?> ReceiveAsync(CancellationToken cancel);
}
