using System.Collections.Immutable;
using Microsoft.EntityFrameworkCore;
using ShopDiag.Comebacks.Repairs;
using ShopDiag.Storage.Rows;
using ShopDiag.Storage.Writing;

namespace ShopDiag.Storage.Comebacks;

/// <summary>
/// The shop's cases in memory: read whole once, after that only those of orders that have changed, as the change bus tells. Some 300 bytes a case. The data folder is this process's alone, so
/// nothing changes without being told, and a backup that is put back is told too; a process that only looks on holds the state of when it looked.
/// </summary>
internal sealed class CaseShelf(IDbContextFactory<ShopDb> contexts, ChangeBus bus) : IDisposable
{
    private readonly SemaphoreSlim _one = new(1, 1);
    private readonly HashSet<Guid> _changed = [];
    private readonly List<RepairCase> _cases = [];
    private IDisposable? _listening;
    private volatile bool _replaced;
    private (TimeZoneInfo Zone, long Labour)? _read;
    private (ComebackWindow Window, ImmutableArray<RepairCase> Cases)? _proposed;

    /// <summary>All cases by number, with the proposals of a window on those on which nobody has said anything.</summary>
    public async Task<ImmutableArray<RepairCase>> GetAsync(TimeZoneInfo zone, ComebackWindow window, CancellationToken cancel)
    {
        await _one.WaitAsync(cancel).ConfigureAwait(false);
        try
        {
            var db = contexts.CreateDbContext();
            await using (db.ConfigureAwait(false))
            {
                await ReadAsync(db, zone, cancel).ConfigureAwait(false);
                if (_proposed is not { } ready || ready.Window != window)
                {
                    _proposed = ready = (window, await UndecidedOrders.ProposeAsync(db, [.. _cases], window, cancel).ConfigureAwait(false));
                }

                return ready.Cases;
            }
        }
        finally
        {
            _one.Release();
        }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        bus.Replaced -= Forget;
        _listening?.Dispose();
        _one.Dispose();
    }

    private async Task ReadAsync(ShopDb db, TimeZoneInfo zone, CancellationToken cancel)
    {
        // Before anything is read: a change that lands meanwhile is read again the next time.
        if (_listening is null)
        {
            _listening = bus.Subscribe(null, Note);
            bus.Replaced += Forget;
        }

        if (_replaced)
        {
            (_replaced, _read) = (false, null);
        }

        var (changed, labour) = (Taken(), await CaseReader.LabourPerHourAsync(db, cancel).ConfigureAwait(false));
        var reader = new CaseReader(db, zone, labour);
        try
        {
            if (_read != (zone, labour))
            {
                _read = null;
                _cases.Clear();
                _cases.AddRange(await reader.ReadAsync(CaseReader.Everything, null, cancel).ConfigureAwait(false));
                _read = (zone, labour);
            }
            else if (changed.Length > 0)
            {
                await ReadAgainAsync(reader, changed, cancel).ConfigureAwait(false);
            }
            else
            {
                return;
            }
        }
        catch
        {
            // What was not read this time must be read the next.
            _read = null;
            throw;
        }

        LaterVisits.Put(_cases);
        _proposed = null;
    }

    private async Task ReadAgainAsync(CaseReader reader, Guid[] orders, CancellationToken cancel)
    {
        var gone = orders.ToHashSet();
        var read = new List<RepairCase>(orders.Length);
        foreach (var order in orders)
        {
            read.AddRange(await reader.ReadAsync(CaseReader.OfOneOrder, order, cancel).ConfigureAwait(false));
        }

        _cases.RemoveAll(c => gone.Contains(c.OrderId));
        _cases.AddRange(read);
        _cases.Sort(static (a, b) => a.Number.CompareTo(b.Number));
    }

    private void Note(Guid order)
    {
        lock (_changed)
        {
            _changed.Add(order);
        }
    }

    private void Forget() => _replaced = true;

    private Guid[] Taken()
    {
        lock (_changed)
        {
            Guid[] taken = [.. _changed];
            _changed.Clear();
            return taken;
        }
    }
}
