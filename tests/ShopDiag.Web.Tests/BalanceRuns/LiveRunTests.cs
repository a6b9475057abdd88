using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Time.Testing;
using ShopDiag.Signals.Audio;
using ShopDiag.Signals.Guided;
using ShopDiag.Signals.Speed;
using ShopDiag.Storage;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Recordings;
using ShopDiag.Web.BalanceRuns;

namespace ShopDiag.Web.Tests.BalanceRuns;

public sealed class LiveRunTests : IAsyncLifetime
{
    private const int Rate = 16000;
    private const int Block = Rate / 10;
    private readonly string _folder = Directory.CreateTempSubdirectory("shopdiag-live-").FullName;
    private readonly FakeTimeProvider _time = new(new DateTimeOffset(2026, 3, 5, 9, 0, 0, TimeSpan.Zero));
    private ServiceProvider _services = null!;
    private LiveRuns _runs = null!;
    private Guid _order;

    private RecordingStore Store => _services.GetRequiredService<RecordingStore>();

    public async ValueTask InitializeAsync()
    {
        _services = new ServiceCollection().AddLogging().AddSingleton<TimeProvider>(_time).AddShopStorage(_folder).BuildServiceProvider();
        await _services.OpenShopAsync();
        _order = (await _services.GetRequiredService<OrderStore>().OpenAsync(Guid.NewGuid(), "Rosa")).Id;
        _runs = new(Store, _time, NullLogger<LiveRuns>.Instance);
    }

    public async ValueTask DisposeAsync()
    {
        await _runs.DisposeAsync();
        await _services.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }

    [Fact]
    public async Task Lost_blocks_become_silence_and_are_counted_and_what_comes_twice_is_passed_over()
    {
        var run = await StartAsync();
        run.Feed(0, Tone(1));
        run.Feed(Block, Tone(2));
        run.Feed(Block, Tone(2));
        run.Feed(4 * Block, Tone(3));
        run.Feed((4 * Block) - 100, Tone(4));
        await run.DisposeAsync();

        var kept = (await Store.GetAsync(run.Recording.Id))!;
        short[] samples = await SamplesAsync(run);
        Assert.Equal((5 * Block, 0.2), (samples.Length, Math.Round(kept.LostSeconds, 3)));
        Assert.All(samples[(2 * Block)..(4 * Block)], s => Assert.Equal(0, s));
        Assert.Equal((1, 2, 3), (samples[0], samples[Block], samples[^1]));
    }

    [Fact]
    public async Task After_a_reload_the_time_between_is_silence_so_that_the_clock_stays_right()
    {
        var run = await StartAsync();
        for (var i = 0; i < 10; i++)
        {
            _time.Advance(TimeSpan.FromMilliseconds(100));
            run.Feed(i * Block, Tone(1));
        }

        _time.Advance(TimeSpan.FromSeconds(2));
        Assert.True(run.Begin(Rate));
        _time.Advance(TimeSpan.FromMilliseconds(100));
        run.Feed(0, Tone(2));
        Assert.False(run.Begin(48000));
        await run.DisposeAsync();

        short[] samples = await SamplesAsync(run);
        Assert.Equal(31 * Block, samples.Length);
        Assert.Equal((1, 0, 2), (samples[Block * 9], samples[Block * 20], samples[^1]));
    }

    [Fact]
    public async Task A_run_that_took_nothing_leaves_no_recording_behind_and_another_can_begin()
    {
        var run = await StartAsync();
        Assert.NotNull(_runs.Of(_order));
        Assert.False((await _runs.StartAsync(Recording(), Plan)).IsValid);
        run.Feed(0, Tone(1));
        await run.DisposeAsync();

        Assert.Null(_runs.Of(_order));
        Assert.Empty(await Store.OfOrderAsync(_order));
        await (await StartAsync()).DisposeAsync();
    }

    [Fact]
    public async Task Without_sound_the_run_pauses_and_says_so()
    {
        var run = await StartAsync();
        run.Feed(0, Tone(1));
        await UntilAsync(() => run.View is { Phase: RunPhase.Paused, Silent: true });
        Assert.Equal(RunPhase.Paused, run.View.Phase);
        await run.DisposeAsync();
    }

    [Fact]
    public async Task In_a_pause_nothing_is_recorded_and_later_turns_are_where_they_are_in_the_file()
    {
        var run = await StartAsync();
        var block = 0;
        void Hear(int blocks, short level)
        {
            for (var i = 0; i < blocks; i++)
            {
                _time.Advance(TimeSpan.FromMilliseconds(100));
                run.Feed(block++ * Block, Tone(level));
            }
        }

        Hear(10, 1);
        run.Do((g, now) => g.Pause(now));
        Hear(40, 2);
        Assert.Equal((RunPhase.Paused, null, false), (run.View.Phase, run.View.Rpm, run.View.Silent));
        run.Do((g, now) => g.Resume(now));
        Hear(5, 3);
        run.Do((g, now) => g.CancelNow(now));
        Hear(20, 4);
        run.Do((g, now) => g.Restored(now));
        run.Do((g, now) => g.Restored(now));
        Hear(5, 5);
        await run.DisposeAsync();

        short[] samples = await SamplesAsync(run);
        Assert.Equal(40 * Block, samples.Length);
        Assert.DoesNotContain<short>(2, samples);
        var kept = (await Store.GetAsync(run.Recording.Id))!;
        Assert.Equal(0, kept.LostSeconds);
        var turn = Assert.Single(kept.Plan.Times);
        Assert.Equal((1.5, 3.5), (turn.From, turn.To));
        Assert.Equal((3, 4, 4, 5), (samples[(15 * Block) - 1], samples[15 * Block], samples[(35 * Block) - 1], samples[35 * Block]));
    }

    [Fact]
    public async Task A_pause_that_nobody_ends_ends_the_run()
    {
        var run = await StartAsync();
        run.Do((g, now) => g.Pause(now));
        for (var i = 0; i < 600 && !run.IsFinished; i++)
        {
            _time.Advance(TimeSpan.FromSeconds(5));
            run.Feed(i * Block, Tone(1));
            await Task.Delay(10);
        }

        Assert.True(run.IsFinished);
        Assert.InRange(run.View.Seconds, 1800, 2600);
    }

    [Fact]
    public async Task A_turn_is_with_the_recording_while_the_run_still_goes_on()
    {
        var run = await StartAsync();
        run.Feed(0, Tone(1));
        run.Do((g, now) => g.CancelNow(now));
        run.Do((g, now) => g.Restored(now));
        run.Do((g, now) => g.Restored(now));
        await UntilAsync(() => Store.GetAsync(run.Recording.Id).Result is { Plan.Times: [{ Cylinder: 1, TakenBack: false }], Finished: false });
        await run.DisposeAsync();
        Assert.True((await Store.GetAsync(run.Recording.Id))!.Finished);
    }

    [Fact]
    public async Task A_disk_that_takes_no_more_stops_the_run_and_says_so()
    {
        var recording = Recording();
        await Store.AddAsync(recording);
        var run = new LiveRun(recording, Plan, EngineToHear.Create(4, 750).Value, new FullDisk(WavWriter.HeaderBytes + (2 * Block)), Store, _time, NullLogger.Instance);
        Assert.True(run.Begin(Rate));
        run.Feed(0, Tone(1));
        run.Feed(Block, Tone(1));
        await UntilAsync(() => run.IsFinished);

        Assert.Contains("disk full", run.View.Problem, StringComparison.Ordinal);
        Assert.Equal(RunPhase.Done, run.View.Phase);
        await run.DisposeAsync();
    }

    private sealed class FullDisk(long room) : MemoryStream
    {
        public override void Write(ReadOnlySpan<byte> buffer)
        {
            if (Position + buffer.Length > room)
            {
                throw new IOException("No space left on device");
            }

            base.Write(buffer);
        }
    }

    private static RunPlan Plan { get; } = new() { Order = [1, 2, 3, 4], Listens = true };

    private BalanceRecording Recording() => new()
    {
        Id = Guid.NewGuid(), OrderId = _order, Kind = RecordingKind.Sound, Cylinders = 4, Plan = new() { Order = Plan.Order, RoughRpm = 750 },
    };

    private async Task<LiveRun> StartAsync()
    {
        var run = (await _runs.StartAsync(Recording(), Plan)).Value;
        Assert.True(run.Begin(Rate));
        return run;
    }

    // The run's own worker needs real time; its clock is the test's.
    private async Task UntilAsync(Func<bool> reached)
    {
        for (var i = 0; i < 600 && !reached(); i++)
        {
            _time.Advance(TimeSpan.FromMilliseconds(50));
            await Task.Delay(10);
        }

        Assert.True(reached());
    }

    private async Task<short[]> SamplesAsync(LiveRun run)
    {
        await using var file = Store.OpenFile(run.Recording.Id, RecordingKind.Sound)!;
        var bytes = new byte[file.Length - WavWriter.HeaderBytes];
        file.Position = WavWriter.HeaderBytes;
        await file.ReadExactlyAsync(bytes);
        return [.. Enumerable.Range(0, bytes.Length / 2).Select(i => BitConverter.ToInt16(bytes, 2 * i))];
    }

    private static byte[] Tone(short level) => [.. Enumerable.Repeat(BitConverter.GetBytes(level), Block).SelectMany(b => b)];
}
