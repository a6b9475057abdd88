using ShopDiag.Storage.Writing;

namespace ShopDiag.Storage.Tests.Writing;

/// <summary>Keeps the writer busy, so that what is sent meanwhile stands in one batch afterwards.</summary>
internal sealed class HeldWriter
{
    private readonly TaskCompletionSource _letGo = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private readonly Task _held;

    private HeldWriter(WriteQueue writer, TaskCompletionSource started) => _held = writer.RunAsync(
        async _ =>
        {
            started.SetResult();
            await _letGo.Task;
            return true;
        },
        CancellationToken.None);

    public static async Task<HeldWriter> HoldAsync(WriteQueue writer)
    {
        var started = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        var holder = new HeldWriter(writer, started);
        await started.Task;
        return holder;
    }

    public Task LetGoAsync()
    {
        _letGo.SetResult();
        return _held;
    }
}
