using Bunit;
using Microsoft.AspNetCore.Components;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging.Abstractions;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Signals.Audio;
using ShopDiag.Signals.Guided;
using ShopDiag.Signals.Speed;
using ShopDiag.Storage.Recordings;
using ShopDiag.Web.BalanceRuns;
using ShopDiag.Web.Components.BalanceRunViews;
using ShopDiag.Web.Tests.Support;

namespace ShopDiag.Web.Tests.BalanceRuns;

public sealed class RunScreenTests : PageTest
{
    [Fact]
    public async Task The_end_of_a_run_that_comes_while_the_screen_draws_breath_is_not_missed()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await shop.NewOrderAsync();
        var recording = new BalanceRecording
        {
            Id = Guid.NewGuid(), OrderId = order.Id, Kind = RecordingKind.Sound, Cylinders = 4, Plan = new() { Order = [1, 2, 3, 4], RoughRpm = 750 },
        };
        await shop.Recordings.AddAsync(recording);
        var run = new LiveRun(
            recording, new RunPlan { Order = [1, 2, 3, 4], Listens = true }, EngineToHear.Create(4, 750).Value, new MemoryStream(), shop.Recordings, shop.Time, NullLogger.Instance);
        Assert.True(run.Begin(WavFormat.LowestRate));
        var finished = new TaskCompletionSource<LiveRun>();
        var engine = Engine.Create(Knowledge.Shipped.Profiles.First(p => p.Spec.Layout == "I4").Spec).Value;
        Services.AddSingleton<TimeProvider>(shop.Time);
        var screen = Render<RunScreen>(p => p.Add(s => s.Run, run).Add(s => s.Engine, engine)
            .Add(s => s.OnFinished, EventCallback.Factory.Create<LiveRun>(this, finished.SetResult)));

        // Shown once, then asked again within the same breath: the screen waits.
        run.Do((_, _) => { });
        await screen.InvokeAsync(() => { });
        run.Do((_, _) => { });
        await screen.InvokeAsync(() => { });
        await run.DisposeAsync();
        Assert.False(finished.Task.IsCompleted);

        for (var i = 0; i < 20 && !finished.Task.IsCompleted; i++)
        {
            shop.Time.Advance(TimeSpan.FromMilliseconds(50));
            await screen.InvokeAsync(() => { });
        }

        Assert.Same(run, await finished.Task.WaitAsync(TimeSpan.FromSeconds(30), TimeProvider.System));
    }
}
