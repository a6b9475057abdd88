using System.Collections.Concurrent;

namespace ShopDiag.Storage.Writing;

/// <summary>Tells the pages of this process which order has changed, after the change is on disk.</summary>
public sealed class ChangeBus
{
    private readonly ConcurrentDictionary<long, (Guid? Order, Action<Guid> Changed)> _listeners = new();
    private long _next;

    /// <summary>Calls back with the id of each changed order, or of one order only. Disposing the answer ends it. The callback must not block.</summary>
    public IDisposable Subscribe(Guid? order, Action<Guid> changed)
    {
        var key = Interlocked.Increment(ref _next);
        _listeners[key] = (order, changed);
        return new Subscription(() => _listeners.TryRemove(key, out _));
    }

    /// <summary>Says that an order has changed.</summary>
    public void Publish(Guid order)
    {
        foreach (var (listening, changed) in _listeners.Values)
        {
            if (listening is null || listening == order)
            {
                changed(order);
            }
        }
    }

    private sealed class Subscription(Action end) : IDisposable
    {
        public void Dispose() => end();
    }
}
