using System.Collections.Immutable;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Shop;
using ShopDiag.Storage.Writing;
using ShopDiag.Web.Saving;

namespace ShopDiag.Web.Components.WorkupViews;

/// <summary>A save that can be undone, for the line that says so.</summary>
/// <param name="Id">The reading's key.</param>
/// <param name="Words">What was saved where, in words.</param>
public sealed record LastSave(Guid Id, string Words);

/// <summary>One order's workup on one tablet: loads it, follows what others change, saves readings and the finding.</summary>
public sealed class WorkupSession(
    OrderStore orders, ShopStore shops, ChangeBus bus, Knowledge knowledge, Assessments assessments, CommandJournal journal, Tablet tablet, TimeProvider time) : IDisposable
{
    // Several changes within a breath are shown together.
    private static readonly TimeSpan Breath = TimeSpan.FromMilliseconds(250);

    private readonly SemaphoreSlim _loading = new(1);
    private IDisposable? _subscription;
    private Guid _order;
    private Stage? _stage;
    private int _waiting;
    private DateTimeOffset _loadedAt = DateTimeOffset.MinValue;

    /// <summary>Raised after <see cref="View"/> has changed; on any thread.</summary>
    public event Action? Changed;

    /// <summary>The page, or null while there is no such order or it has no engine.</summary>
    public WorkupView? View { get; private set; }

    /// <summary>The order, or null when there is none.</summary>
    public RepairOrder? Order { get; private set; }

    /// <summary>The cells that the last change touched.</summary>
    public ImmutableHashSet<CellKey> Fresh { get; private set; } = [];

    /// <summary>Counts the versions shown.</summary>
    public int Version { get; private set; }

    /// <summary>The last reading saved here, for undo; null after undo.</summary>
    public LastSave? Last { get; private set; }

    /// <summary>Opens the order with a number on paper; false when there is none.</summary>
    public async Task<bool> OpenAsync(int number)
    {
        Close();
        if (await orders.GetByNumberAsync(number) is not { } order)
        {
            return false;
        }

        _order = order.Id;
        _subscription = bus.Subscribe(order.Id, _ => ReloadSoon());
        await LoadAsync();
        return Order is not null;
    }

    /// <summary>Ends following the order.</summary>
    public void Close()
    {
        _subscription?.Dispose();
        (_subscription, View, Order, Last, _stage, Fresh, Version) = (null, null, null, null, null, [], 0);
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        Close();
        _loading.Dispose();
    }

    /// <summary>Shows the readings of another stage.</summary>
    public Task ShowStageAsync(Stage stage)
    {
        _stage = stage;
        return LoadAsync();
    }

    /// <summary>What was read in a cell.</summary>
    public CellHistory History(CellKey cell) =>
        CellHistory.Of(cell, Order!, knowledge.Test(cell.Test)!, View?.Assessment, View!.Units, time.LocalTimeZone);

    /// <summary>
    /// Saves a reading through the tablet's journal. The id is made before the first try, so a repetition is harmless;
    /// <paramref name="journalled"/> is called once the tablet holds the reading.
    /// </summary>
    public async Task<SaveResult> SaveAsync(Reading reading, Guid? supersedes, Func<Task>? journalled = null)
    {
        ArgumentNullException.ThrowIfNull(reading);
        var taken = reading with { TakenAt = time.GetUtcNow(), By = tablet.By.Length > 0 ? tablet.By : null };
        var added = new NewReading { Id = Guid.CreateVersion7(), Reading = taken, SupersedesId = supersedes };
        var result = await RunAsync(added, journalled);
        if (result.Outcome is SaveOutcome.Saved or SaveOutcome.AlreadySaved)
        {
            var test = knowledge.Test(taken.Test)!;
            Last = new(added.Id, $"{test.Title}, {taken.At}: {ReadingText.InFull(taken, test, View!.Units)}");
        }

        return result;
    }

    /// <summary>Takes a reading back. It stays on record.</summary>
    public async Task<SaveResult> TakeBackAsync(Guid readingId)
    {
        if (Order?.Readings.FirstOrDefault(r => r.Id == readingId) is not { } kept)
        {
            kept = (Order = await orders.GetAsync(_order))?.Readings.FirstOrDefault(r => r.Id == readingId);
        }

        if (kept is null)
        {
            return new(SaveOutcome.Refused, "", "This reading is not on the order any more.");
        }

        var taken = kept.Reading with { TakenAt = time.GetUtcNow(), By = tablet.By.Length > 0 ? tablet.By : null, Note = null };
        var result = await RunAsync(new() { Id = Guid.CreateVersion7(), Reading = taken, SupersedesId = readingId, Withdrawn = true }, null);
        Last = Last?.Id == readingId ? null : Last;
        return result;
    }

    /// <summary>Takes over a finding; a reason stands for the proof that is missing.</summary>
    public Task<SaveResult> TakeFindingAsync(Conclusion conclusion, double probability, string? unprovenReason) => orders.SetFindingAsync(
        _order,
        new OrderFinding { Conclusion = conclusion, Probability = probability, UnprovenReason = unprovenReason, At = time.GetUtcNow().UtcDateTime, By = tablet.By },
        Guid.CreateVersion7());

    /// <summary>Takes the finding back.</summary>
    public Task<SaveResult> TakeFindingBackAsync() => orders.SetFindingAsync(_order, null, Guid.CreateVersion7());

    private Task<SaveResult> RunAsync(NewReading added, Func<Task>? journalled) => journal.RunAsync(
        ReadingCommand.Kind, added.Id, ReadingCommand.Of(_order, added).Write(), async () =>
        {
            if (journalled is not null)
            {
                await journalled();
            }

            return await orders.AddReadingAsync(_order, added);
        });

    private void ReloadSoon()
    {
        if (Interlocked.Exchange(ref _waiting, 1) == 0)
        {
            _ = ReloadAsync();
        }
    }

    private async Task ReloadAsync()
    {
        var wait = _loadedAt + Breath - time.GetUtcNow();
        if (wait > TimeSpan.Zero)
        {
            await Task.Delay(wait, time);
        }

        Interlocked.Exchange(ref _waiting, 0);
        await LoadAsync();
    }

    private async Task LoadAsync()
    {
        await _loading.WaitAsync();
        try
        {
            _loadedAt = time.GetUtcNow();
            var order = await orders.GetAsync(_order);
            var settings = await shops.GetAsync() ?? new ShopSettings();
            var workup = order?.ToWorkup(settings.ToSetup());
            var view = workup is null ? null : WorkupView.Of(
                order!, workup.Engine, await assessments.OfAsync(order!, workup), knowledge, settings, time.LocalTimeZone, _stage);
            Fresh = SheetChanges.Between(View, view);
            (Order, View) = (order, view);
            Version++;
        }
        finally
        {
            _loading.Release();
        }

        Changed?.Invoke();
    }
}
