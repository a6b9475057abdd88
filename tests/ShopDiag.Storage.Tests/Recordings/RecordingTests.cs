using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Recordings;

namespace ShopDiag.Storage.Tests.Recordings;

public sealed class RecordingTests
{
    private static readonly RecordingPlan Plan = new()
    {
        Order = [1, 3, 4, 2],
        Times = [new(1, 5.2, 9, true), new(1, 20, 24.5)],
        Given = [new(5.8, 0)],
        RoughRpm = 750,
    };

    [Fact]
    public async Task A_recording_comes_back_as_it_was_put_on_the_order()
    {
        await using var shop = await TestShop.OpenAsync();
        var recording = Of(await shop.OpenOrderAsync());

        Assert.Equal(SaveOutcome.Saved, (await shop.Recordings.AddAsync(recording)).Outcome);
        await shop.Recordings.SetPlanAsync(recording.Id, Plan);
        await shop.Recordings.FinishAsync(recording.Id, 61.5, 0.4);
        var kept = Assert.Single(await shop.Recordings.OfOrderAsync(recording.OrderId));

        Assert.Equal(recording with { MadeAt = shop.Clock.GetUtcNow().UtcDateTime, Plan = kept.Plan, Seconds = 61.5, LostSeconds = 0.4, Finished = true }, kept);
        Assert.Equal(Plan.Order, kept.Plan.Order);
        Assert.Equal(Plan.Times, kept.Plan.Times);
        Assert.Equal(Plan.Given, kept.Plan.Given);
        Assert.Equal(750, kept.Plan.RoughRpm);
    }

    [Fact]
    public async Task The_same_recording_again_is_harmless_and_its_key_on_another_order_is_refused()
    {
        await using var shop = await TestShop.OpenAsync();
        var recording = Of(await shop.OpenOrderAsync());
        await shop.Recordings.AddAsync(recording);

        Assert.Equal(SaveOutcome.AlreadySaved, (await shop.Recordings.AddAsync(recording)).Outcome);
        Assert.Equal(SaveOutcome.Refused, (await shop.Recordings.AddAsync(recording with { OrderId = (await shop.OpenOrderAsync()).Id })).Outcome);
        Assert.Equal(SaveOutcome.Refused, (await shop.Recordings.AddAsync(Of(recording.OrderId) with { OrderId = Guid.NewGuid() })).Outcome);
        Assert.Single(await shop.Recordings.OfOrderAsync(recording.OrderId));
    }

    [Fact]
    public async Task A_deleted_recording_can_be_got_back_for_a_month_and_then_its_file_goes()
    {
        await using var shop = await TestShop.OpenAsync();
        var (order, kept) = (await shop.OpenOrderAsync(), Of(Guid.Empty));
        var (gone, back) = (Of(order), Of(order));
        foreach (var recording in new[] { gone, back, kept with { OrderId = order.Id } })
        {
            await shop.Recordings.AddAsync(recording);
            await shop.Recordings.KeepFileAsync(recording.Id, recording.Kind, new MemoryStream([1, 2, 3]));
        }

        await shop.Recordings.SetRemovedAsync(gone.Id, true);
        await shop.Recordings.SetRemovedAsync(back.Id, true);
        await shop.Recordings.SetRemovedAsync(back.Id, false);
        shop.Clock.Advance(RecordingStore.KeptAfterRemoval - TimeSpan.FromHours(1));
        Assert.Equal(0, await shop.Recordings.SweepAsync());
        Assert.Equal(2, (await shop.Recordings.OfOrderAsync(order.Id)).Length);
        shop.Clock.Advance(TimeSpan.FromHours(2));

        Assert.Equal(1, await shop.Recordings.SweepAsync());
        Assert.Null(await shop.Recordings.GetAsync(gone.Id));
        Assert.Null(shop.Recordings.OpenFile(gone.Id, gone.Kind));
        await using var file = shop.Recordings.OpenFile(back.Id, back.Kind);
        Assert.Equal(3, file!.Length);
    }

    [Fact]
    public async Task A_file_that_broke_off_on_its_way_is_never_seen()
    {
        await using var shop = await TestShop.OpenAsync();
        var id = Guid.NewGuid();
        await Assert.ThrowsAsync<IOException>(() => shop.Recordings.KeepFileAsync(id, RecordingKind.Sound, new BrokenStream()));
        Assert.Null(shop.Recordings.OpenFile(id, RecordingKind.Sound));
        Assert.Empty(Directory.GetFiles(Path.Combine(shop.Folder, "recordings")));
    }

    [Fact]
    public async Task A_recording_being_made_can_be_read_by_others_and_begins_only_once()
    {
        await using var shop = await TestShop.OpenAsync();
        var id = Guid.NewGuid();
        await using var making = shop.Recordings.CreateFile(id, RecordingKind.Sound);
        making.Write([1, 2, 3, 4]);
        making.Flush();
        await using var reading = shop.Recordings.OpenFile(id, RecordingKind.Sound);
        Assert.Equal(4, reading!.Length);
        Assert.Throws<IOException>(() => shop.Recordings.CreateFile(id, RecordingKind.Sound));
    }

    [Fact]
    public async Task Pages_on_the_order_are_told_of_a_change()
    {
        await using var shop = await TestShop.OpenAsync();
        var recording = Of(await shop.OpenOrderAsync());
        var told = new TaskCompletionSource();
        using var listening = shop.Bus.Subscribe(recording.OrderId, _ => told.TrySetResult());
        await shop.Recordings.AddAsync(recording);
        await told.Task.WaitAsync(TimeSpan.FromSeconds(30));
    }

    private static BalanceRecording Of(RepairOrder order) => Of(order.Id);

    private static BalanceRecording Of(Guid order) => new()
    {
        Id = Guid.NewGuid(), OrderId = order, Kind = RecordingKind.Sound, By = "Rosa", Stage = Stage.After, Cylinders = 4, Method = "unplug-coil",
    };

    private sealed class BrokenStream : MemoryStream
    {
        public override ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken = default) => throw new IOException("The line was cut.");

        public override Task CopyToAsync(Stream destination, int bufferSize, CancellationToken cancellationToken)
        {
            destination.WriteByte(1);
            throw new IOException("The line was cut.");
        }
    }
}
