using System.Collections.Concurrent;
using System.Collections.Immutable;
using Microsoft.AspNetCore.Components.Server.Circuits;
using ShopDiag.Web.Saving;

namespace ShopDiag.Web.Keeping;

/// <summary>A page that is open on a tablet.</summary>
/// <param name="Who">Who works on it, or empty.</param>
/// <param name="Since">When it was opened, UTC.</param>
/// <param name="Connected">False while its connection is lost.</param>
public sealed record ConnectedTablet(string Who, DateTime Since, bool Connected);

/// <summary>The tablets whose pages are open now.</summary>
public sealed class ConnectedTablets
{
    private readonly ConcurrentDictionary<string, Entry> _open = new();

    /// <summary>All, oldest first.</summary>
    public ImmutableArray<ConnectedTablet> All => [.. _open.Values.Select(e => new ConnectedTablet(e.Who(), e.Since, e.Connected)).OrderBy(t => t.Since)];

    /// <summary>Those with a connection.</summary>
    public int Connected => _open.Values.Count(e => e.Connected);

    internal void Set(string circuit, Func<string> who, DateTime now, bool connected) =>
        _open.AddOrUpdate(circuit, _ => new(who, now, connected), (_, known) => known with { Connected = connected });

    internal void Remove(string circuit) => _open.TryRemove(circuit, out _);

    private sealed record Entry(Func<string> Who, DateTime Since, bool Connected);
}

/// <summary>Tells of one circuit.</summary>
internal sealed class TabletWatch(ConnectedTablets tablets, Tablet tablet, TimeProvider time) : CircuitHandler
{
    /// <inheritdoc/>
    public override Task OnConnectionUpAsync(Circuit circuit, CancellationToken cancellationToken) => Set(circuit, true);

    /// <inheritdoc/>
    public override Task OnConnectionDownAsync(Circuit circuit, CancellationToken cancellationToken) => Set(circuit, false);

    /// <inheritdoc/>
    public override Task OnCircuitClosedAsync(Circuit circuit, CancellationToken cancellationToken)
    {
        tablets.Remove(circuit.Id);
        return Task.CompletedTask;
    }

    private Task Set(Circuit circuit, bool connected)
    {
        tablets.Set(circuit.Id, () => tablet.By, time.GetUtcNow().UtcDateTime, connected);
        return Task.CompletedTask;
    }
}
