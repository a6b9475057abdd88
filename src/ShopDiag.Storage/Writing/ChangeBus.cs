using System.Collections.Concurrent;
using System.Diagnostics;

namespace ShopDiag.Storage.Writing;

/// <summary>Tells the pages of this process which order has changed, after the change is on disk.</summary>
public sealed class ChangeBus
{
    private readonly ConcurrentDictionary<long, (Guid? Order, Action<Guid> Changed)> _listeners = new();
    private long _next;

    /// <summary>Raised when other records have taken the place of those that were there (a backup was put back): every page must begin again. The callback must not block.</summary>
    public event Action? Replaced;

    /// <summary>Calls back with the id of each changed order, or of one order only. Disposing the answer ends it. The callback must not block.</summary>
    public IDisposable Subscribe(Guid? order, Action<Guid> changed)
    {
        var key = Interlocked.Increment(ref _next);
        _listeners[key] = (order, changed);
        return new Subscription(() => _listeners.TryRemove(key, out _));
    }

    /// <summary>Says that an order has changed. A listener that throws is passed over, so that the others still hear of it.</summary>
    public void Publish(Guid order)
    {
        foreach (var (listening, changed) in _listeners.Values)
        {
            if (listening is null || listening == order)
            {
                Tell(changed, order);
            }
        }
    }

    /// <summary>Says that all records have been replaced.</summary>
    internal void PublishReplaced() => Replaced?.Invoke();

    private static void Tell(Action<Guid> changed, Guid order)
    {
        try
        {
            changed(order);
        }
#pragma warning disable CA1031 // A page that is being torn down may throw anything; the change itself is on disk and must be answered as saved.
        catch (Exception e)
#pragma warning restore CA1031
        {
            Trace.TraceError($"A listener to changes of order {order} failed: {e}");
        }
    }

    private sealed class Subscription(Action end) : IDisposable
    {
        public void Dispose() => end();
    }
}
