using ShopDiag.Signals.Cancellations;
using ShopDiag.Signals.Live;
using ShopDiag.Signals.Measured.Noise;
using ShopDiag.Signals.Measured.Tables;
using ShopDiag.Signals.Speed;

namespace ShopDiag.Signals.Tests.Live;

public sealed class LiveSpeedTests
{
    private static readonly Trial Four = new(4, 750, Scene.Shop, 10, 61);
    private static readonly Lazy<(float[] Sound, Measured.Engines.CrankRun Run)> Heard = new(() =>
    {
        var run = Four.Run();
        return (Four.Sound(run), run);
    });

    [Fact]
    public void The_speed_comes_within_seven_tenths_of_a_second()
    {
        var (sound, run) = Heard.Value;
        var live = new LiveSpeed(Four.Engine, Four.Rate);
        var shown = new List<(double Now, double Rpm)>();
        foreach (var block in sound.Chunk(Four.Rate / 10))
        {
            shown.AddRange(live.Feed(block).Select(p => (live.Seconds, p.Rpm)));
        }

        // The lag at which what is shown fits the truth best.
        var lag = Enumerable.Range(0, 40).Select(i => i * 0.05).MinBy(l => shown.Where(s => s.Now > 3).Average(s => Math.Abs(s.Rpm - run.Rpm(s.Now - l))));
        Assert.InRange(lag, 0.1, 0.7);
        Assert.InRange(live.Delay, 0.3, 0.6);
        Assert.Equal(10 * run.Seconds, shown.Count, 10.0);
    }

    [Fact]
    public void Blocks_of_any_size_give_the_same_points()
    {
        var sound = Heard.Value.Sound.AsSpan(0, Four.Rate * 6).ToArray();
        List<SpeedPoint> With(int size)
        {
            var live = new LiveSpeed(Four.Engine, Four.Rate);
            return [.. sound.Chunk(size).SelectMany(b => live.Feed(b))];
        }

        Assert.Equal(With(1600), With(777));
        Assert.Equal(With(1600), With(Four.Rate * 6));
    }

    [Fact]
    public void It_hears_each_fall_and_each_recovery_in_time_to_go_on_by_itself()
    {
        var (sound, _) = Heard.Value;
        var (live, watch) = (new LiveSpeed(Four.Engine, Four.Rate), new DropWatch());
        var heard = new List<(WatchState State, double Now)>();
        foreach (var point in sound.Chunk(Four.Rate / 10).SelectMany(b => live.Feed(b).Select(p => (Point: p, Now: live.Seconds))))
        {
            var before = watch.State;
            if (watch.Next(point.Point) != before && watch.State is WatchState.Fallen or WatchState.Recovered && watch.State != before)
            {
                heard.Add((watch.State, point.Now));
            }
        }

        var held = Four.Plan.Held;
        Assert.Equal(2 * held.Length, heard.Count);
        for (var i = 0; i < held.Length; i++)
        {
            Assert.Equal((WatchState.Fallen, WatchState.Recovered), (heard[2 * i].State, heard[(2 * i) + 1].State));
            Assert.InRange(heard[2 * i].Now - held[i].From, 0, 1.5);
            Assert.InRange(heard[(2 * i) + 1].Now - held[i].To, 0, 1.8);
        }
    }

    [Fact]
    public void Afterwards_the_whole_run_is_gone_over_with_hindsight()
    {
        var (sound, run) = Heard.Value;
        var live = new LiveSpeed(Four.Engine, Four.Rate);
        Assert.Null(live.Trace());
        live.Feed(sound);

        var trace = live.Trace()!;

        Assert.Equal(SoundSpeed.Follow(sound, Four.Rate, Four.Engine).Points, trace.Points);
        Assert.Equal(4, CancellationFinder.Find(trace, new() { Cylinders = 4 }).Drops.Length);
        Assert.InRange(Outcome.Of(Four.Plan, run, trace).Median, 0, 0.2);
    }

    [Fact]
    public void A_watch_that_starts_again_waits_for_a_steady_speed_again()
    {
        var watch = new DropWatch();
        void Play(double from, double to, Func<double, double> rpm)
        {
            for (var t = from; t < to; t += 0.1)
            {
                watch.Next(new(t, rpm(t), 1));
            }
        }

        Play(0, 4, _ => 750);
        Assert.Equal((WatchState.Steady, 750.0), (watch.State, watch.BaseRpm));
        Play(4, 5, _ => 680);
        Assert.Equal(WatchState.Fallen, watch.State);
        watch.Restart();
        Assert.Equal((WatchState.Settling, 0.0), (watch.State, watch.BaseRpm));
        Play(5, 6, t => 680 + (70 * (t - 5)));
        Assert.Equal(WatchState.Settling, watch.State);
    }

    [Fact]
    public void The_tablets_own_tones_are_not_heard_as_the_engine()
    {
        // 6 kHz, as loud as the engine, a tenth of a second each second: what Components/BalanceRun/BalanceRunBody.razor.js gives out.
        var sound = Heard.Value.Sound.AsSpan(0, Four.Rate * 12).ToArray();
        float[] with = [.. sound.Select((s, i) => s + (i % Four.Rate < Four.Rate / 10 ? 0.14f * MathF.Sin(2 * MathF.PI * 6000 * i / Four.Rate) : 0))];
        List<SpeedPoint> Points(float[] samples)
        {
            var live = new LiveSpeed(Four.Engine, Four.Rate);
            return [.. live.Feed(samples)];
        }

        Assert.All(Points(sound).Zip(Points(with)).Where(p => p.First.Seconds > 2), p => Assert.InRange(p.Second.Rpm / p.First.Rpm, 0.99, 1.01));
    }

    [Fact]
    public void Points_that_are_not_clear_do_not_trigger()
    {
        var watch = new DropWatch();
        for (var t = 0.0; t < 4; t += 0.1)
        {
            watch.Next(new(t, 750, 1));
        }

        watch.Next(new(4, 400, 0.1));
        watch.Next(new(4.1, 400, 0.1));

        Assert.Equal(WatchState.Steady, watch.State);
    }
}
