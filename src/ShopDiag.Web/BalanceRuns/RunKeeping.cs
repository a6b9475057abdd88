using System.Collections.Immutable;
using ShopDiag.Signals.Audio;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Recordings;

namespace ShopDiag.Web.BalanceRuns;

/// <summary>Keeps a run that is being heard: its sound in a file, its turns in the recording's row. What fails is logged; what came that far stays.</summary>
/// <param name="recording">The recording as it began; its row is there.</param>
/// <param name="file">The file, this class's own from here on; it can be wound back.</param>
/// <param name="store">The rows.</param>
/// <param name="log">Where failures go.</param>
internal sealed class RunKeeping(BalanceRecording recording, Stream file, RecordingStore store, ILogger log)
{
    private WavWriter? _writer;

    /// <summary>Writes the head of the file the first time. Throws <see cref="IOException"/> where it cannot.</summary>
    public void Begin(int rate) => _writer ??= new(file, rate);

    /// <summary>Writes samples: 16 bits, little-endian. Throws <see cref="IOException"/> where it cannot.</summary>
    public void Append(byte[] pcm) => _writer!.Append(pcm);

    /// <summary>Saves the turns; the run goes on where it cannot, and the end tries again.</summary>
    public Task SaveAsync(ImmutableArray<AnnouncedTime> times) => TryAsync("turns", () => SetTimesAsync(times));

    /// <summary>Closes the file and says so in the row; a recording in which no turn counts is removed. Where it cannot, the order lists it as broken off.</summary>
    public async Task FinishAsync(ImmutableArray<AnnouncedTime> times, double lostSeconds)
    {
        await TryAsync("end", async () =>
        {
            _writer?.Finish();
            await file.FlushAsync();
            await SetTimesAsync(times);
            Kept(await store.FinishAsync(recording.Id, _writer?.Seconds ?? 0, lostSeconds));
            if (times.All(t => t.TakenBack))
            {
                Kept(await store.SetRemovedAsync(recording.Id, true));
            }
        });
        await TryAsync("file", () => file.DisposeAsync().AsTask());
    }

    private async Task SetTimesAsync(ImmutableArray<AnnouncedTime> times) => Kept(await store.SetPlanAsync(recording.Id, recording.Plan with { Times = times }));

    private static void Kept(SaveResult result)
    {
        if (result.Outcome == SaveOutcome.Refused)
        {
            throw new InvalidOperationException(result.Message);
        }
    }

    private async Task TryAsync(string what, Func<Task> act)
    {
        try
        {
            await act();
        }
        catch (Exception e) when (e is not OperationCanceledException)
        {
            log.LogError(e, "The {What} of recording {Recording} could not be kept", what, recording.Id);
        }
    }
}
