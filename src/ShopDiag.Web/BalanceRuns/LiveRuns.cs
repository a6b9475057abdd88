using System.Collections.Concurrent;
using ShopDiag.Diagnosis;
using ShopDiag.Signals.Guided;
using ShopDiag.Signals.Speed;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Recordings;

namespace ShopDiag.Web.BalanceRuns;

/// <summary>The guided runs that are being heard, at most one an order. They outlive the pages that show them and end with the program.</summary>
public sealed class LiveRuns(RecordingStore store, TimeProvider time, ILogger<LiveRuns> log) : IAsyncDisposable
{
    private readonly ConcurrentDictionary<Guid, LiveRun> _runs = new();

    /// <summary>The run of an order that is not over, or null.</summary>
    public LiveRun? Of(Guid order) => _runs.TryGetValue(order, out var run) ? run : null;

    /// <summary>Begins a run. The error says why it cannot.</summary>
    /// <param name="recording">What is recorded.</param>
    /// <param name="plan">What is asked for.</param>
    /// <param name="by">The store of whoever begins it, who must be allowed to; null for the program's.</param>
    public async Task<Parsed<LiveRun>> StartAsync(BalanceRecording recording, RunPlan plan, RecordingStore? by = null)
    {
        ArgumentNullException.ThrowIfNull(recording);
        var engine = EngineToHear.Create(recording.Cylinders, recording.Plan.RoughRpm);
        if (engine.Error is { } error)
        {
            return error;
        }

        if (_runs.ContainsKey(recording.OrderId))
        {
            return new InputError("", "A balance run is already going on for this order, perhaps on another tablet.");
        }

        if (await (by ?? store).AddAsync(recording) is { Outcome: SaveOutcome.Refused, Message: var message })
        {
            return new InputError("", message);
        }

        if (await CreateFileAsync(recording.Id) is not { } file)
        {
            return new InputError("", "The recording could not be begun: the server cannot write its file. Is its disk full, or the folder of the records read-only?");
        }

        var run = new LiveRun(recording, plan, engine.Value, file, store, time, log);
        if (_runs.TryAdd(recording.OrderId, run))
        {
            run.Changed += () => Forget(run);
            return run;
        }

        await run.DisposeAsync();
        return new InputError("", "A balance run is already going on for this order, perhaps on another tablet.");
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        foreach (var run in _runs.Values)
        {
            await run.DisposeAsync();
        }
    }

    private async Task<FileStream?> CreateFileAsync(Guid id)
    {
        try
        {
            return store.CreateFile(id, RecordingKind.Sound);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            log.LogError(e, "The file of recording {Recording} could not be made", id);
            await store.SetRemovedAsync(id, true);
            return null;
        }
    }

    private void Forget(LiveRun run)
    {
        if (run.IsFinished)
        {
            _runs.TryRemove(KeyValuePair.Create(run.Recording.OrderId, run));
        }
    }
}
