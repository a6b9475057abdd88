using System.Buffers.Binary;
using System.Collections.Immutable;
using System.Threading.Channels;
using ShopDiag.Signals.Guided;
using ShopDiag.Signals.Live;
using ShopDiag.Signals.Speed;
using ShopDiag.Storage.Recordings;

namespace ShopDiag.Web.BalanceRuns;

/// <summary>
/// A guided balance run that is being heard: takes in the sound block by block, writes it down, follows the speed and leads the run. Lives beside the circuits, so that a page
/// that is loaded again finds it; the analysis runs on a worker of its own. All public members may be called from any thread.
/// </summary>
public sealed class LiveRun : IAsyncDisposable
{
    /// <summary>Seconds of the trace on the screen.</summary>
    public const double ShownSeconds = 30;

    private const double SilentSeconds = 2.5;
    private const double UnclearSeconds = 2;
    private const double AbandonedSeconds = 600;

    /// <summary>A pause longer than this ends the run with what there is: nobody is at the tablet, and its microphone is open.</summary>
    private const double LongestPause = 1800;

    private static readonly TimeSpan TickTime = TimeSpan.FromMilliseconds(100);

    private readonly Lock _gate = new();
    private readonly TimeProvider _time;
    private readonly ILogger _log;
    private readonly long _began;
    private readonly EngineToHear _engine;
    private readonly GuidedRun _guide;
    private readonly Channel<byte[]> _sound = Channel.CreateUnbounded<byte[]>(new() { SingleReader = true });
    private readonly CancellationTokenSource _end = new();
    private readonly Queue<SpeedPoint> _trace = new();
    private readonly RunKeeping _keeping;
    private readonly SoundClock _clock = new(RecordingStore.LongestSeconds);
    private readonly Task _hearing;
    private readonly Task _ticking;
    private LiveSpeed? _live;
    private double? _rpm;
    private double _rpmAt;
    private int _turn;
    private (RunPhase Phase, double Since, int? Cylinder) _seen;
    private (int, int) _saved;
    private bool _closing;
    private string _problem = "";
    private volatile bool _finished;

    /// <summary>Begins; the recording's row is there already. The file is its own from here on, and can be wound back.</summary>
    public LiveRun(BalanceRecording recording, RunPlan plan, EngineToHear engine, Stream file, RecordingStore store, TimeProvider time, ILogger log)
    {
        ArgumentNullException.ThrowIfNull(recording);
        ArgumentNullException.ThrowIfNull(file);
        ArgumentNullException.ThrowIfNull(store);
        ArgumentNullException.ThrowIfNull(time);
        (Recording, Plan, _engine, _time, _log, _began) = (recording, plan, engine, time, log, time.GetTimestamp());
        _keeping = new(recording, file, store, log);
        _guide = new(plan, 0);
        _seen = (_guide.Phase, _guide.Since, _guide.Cylinder);
        (_hearing, _ticking) = (Task.Run(HearAsync), Task.Run(TickAsync));
    }

    /// <summary>Raised, from any thread, after something has changed.</summary>
    public event Action? Changed;

    /// <summary>The recording as it began.</summary>
    public BalanceRecording Recording { get; }

    /// <summary>How it goes.</summary>
    public RunPlan Plan { get; }

    /// <summary>True once the file is written to its end and the row says so.</summary>
    public bool IsFinished => _finished;

    private double Now => _time.GetElapsedTime(_began).TotalSeconds;

    /// <summary>How it stands.</summary>
    public RunView View
    {
        get
        {
            lock (_gate)
            {
                return new()
                {
                    Phase = _guide.Phase,
                    Cylinder = _guide.Cylinder,
                    Turn = _turn,
                    Counts = _guide.Until - Now,
                    Left = _guide.Left,
                    Passes = _guide.Passes,
                    Overdue = _guide.IsOverdue,
                    RestoreFirst = _guide.RestoreFirst,
                    Hunting = _guide.IsHunting,
                    Rpm = _rpm,
                    BaseRpm = _guide.BaseRpm,
                    Trace = [.. _trace],
                    LostSeconds = _clock.LostSeconds,
                    Seconds = Now,
                    Silent = Now - _clock.LastSound > SilentSeconds,
                    Problem = _problem,
                    Finished = _finished,
                };
            }
        }
    }

    /// <summary>The turns on the clock of the recording.</summary>
    public ImmutableArray<AnnouncedTime> Times
    {
        get
        {
            lock (_gate)
            {
                return TimesNow();
            }
        }
    }

    /// <summary>
    /// Sound begins to come, at a rate; also again after the page was loaded anew, when the time between is kept as silence. False when the rate is not the one it began with.
    /// </summary>
    public bool Begin(int rate)
    {
        lock (_gate)
        {
            if (_closing || !_clock.Begin(rate, Now))
            {
                return false;
            }

            try
            {
                _keeping.Begin(rate);
                _live ??= new(_engine, rate);
                return true;
            }
            catch (IOException e)
            {
                Break(e);
                return false;
            }
        }
    }

    /// <summary>
    /// Takes in a block: 16 bits, little-endian, one channel. <paramref name="first"/> is the number of its first sample in its stream: a gap is filled with silence and counted, what
    /// comes twice is passed over. While the run is paused nothing is taken in.
    /// </summary>
    public void Feed(long first, byte[] pcm)
    {
        ArgumentNullException.ThrowIfNull(pcm);
        lock (_gate)
        {
            if (_closing || _live is null || pcm.Length == 0 || pcm.Length % 2 != 0)
            {
                return;
            }

            if (_guide.Phase == RunPhase.Paused)
            {
                // What is said and done in a pause is nobody's business, and would be taken for drops afterwards.
                _clock.PassOver(first, pcm.Length / 2, Now);
                _rpm = null;
                return;
            }

            var (silence, skip, take) = _clock.Place(first, pcm.Length / 2, Now);
            if (silence > 0)
            {
                _sound.Writer.TryWrite(new byte[2 * silence]);
            }

            if (take > 0)
            {
                _sound.Writer.TryWrite(pcm[(2 * skip)..]);
            }
        }
    }

    /// <summary>Does something with the guide, such as pausing it.</summary>
    public void Do(Action<GuidedRun, double> act)
    {
        ArgumentNullException.ThrowIfNull(act);
        lock (_gate)
        {
            act(_guide, Now);
        }

        Noticed();
    }

    /// <summary>Ends the run with what there is and closes the file.</summary>
    public async ValueTask DisposeAsync()
    {
        Do((g, now) => g.Stop(now));
        await _end.CancelAsync();
        _sound.Writer.TryComplete();
        await _ticking;
        await FinishAsync();
        _end.Dispose();
    }

    private async Task HearAsync()
    {
        try
        {
            await foreach (var pcm in _sound.Reader.ReadAllAsync())
            {
                _keeping.Append(pcm);
                Follow(_live!.Feed(Samples(pcm)));
            }
        }
        catch (IOException e)
        {
            lock (_gate)
            {
                Break(e);
            }

            Noticed();
        }
    }

    private void Follow(IReadOnlyList<SpeedPoint> points)
    {
        lock (_gate)
        {
            foreach (var point in points)
            {
                Hear(point);
            }
        }

        if (points.Count > 0)
        {
            Noticed();
        }
    }

    // What cannot be written cannot be measured afterwards: going on would waste the technician's time and the catalyst.
    private void Break(IOException why)
    {
        _log.LogError(why, "Recording {Recording} could not be written", Recording.Id);
        _problem = "The recording could not be written any more, so the run was stopped. Is the server's disk full? What was heard until then is kept.";
        _guide.Stop(Now);
    }

    private void Hear(SpeedPoint point)
    {
        _guide.Hear(point, Now);
        if (point.Confidence >= DropWatch.LeastClear)
        {
            (_rpm, _rpmAt) = (point.Rpm, point.Seconds);
        }
        else if (point.Seconds > _rpmAt + UnclearSeconds)
        {
            _rpm = null;
        }

        _trace.Enqueue(point);
        while (_trace.Peek().Seconds < point.Seconds - ShownSeconds)
        {
            _trace.Dequeue();
        }
    }

    private async Task TickAsync()
    {
        using var timer = new PeriodicTimer(TickTime, _time);
        try
        {
            while (await timer.WaitForNextTickAsync(_end.Token))
            {
                var phase = Tick();
                await SaveAsync();
                if (phase == RunPhase.Done)
                {
                    break;
                }
            }
        }
        catch (OperationCanceledException)
        {
            return;
        }

        await FinishAsync();
    }

    private RunPhase Tick()
    {
        RunPhase phase;
        lock (_gate)
        {
            var now = Now;
            if (now - _clock.LastSound > SilentSeconds)
            {
                _rpm = null;
                _guide.Pause(now);
            }

            if (now - _clock.LastSound > AbandonedSeconds || _live is { IsFull: true } || (_guide.Phase == RunPhase.Paused && now - _guide.Since > LongestPause))
            {
                _guide.Stop(now);
            }

            _guide.Tick(now);
            phase = _guide.Phase;
        }

        Noticed();
        return phase;
    }

    // Pages are told at once when a phase begins; the trace may wait for the next tick.
    private void Noticed()
    {
        lock (_gate)
        {
            var seen = (_guide.Phase, _guide.Since, _guide.Cylinder);
            if (seen != _seen)
            {
                (_seen, _turn) = (seen, _turn + 1);
            }
        }

        Changed?.Invoke();
    }

    private Task SaveAsync()
    {
        lock (_gate)
        {
            var passes = (_guide.Passes.Length, _guide.Passes.Count(p => p.TakenBack));
            if (passes == _saved)
            {
                return Task.CompletedTask;
            }

            _saved = passes;
            return _keeping.SaveAsync(TimesNow());
        }
    }

    private async Task FinishAsync()
    {
        lock (_gate)
        {
            if (_closing)
            {
                return;
            }

            _closing = true;
        }

        _sound.Writer.TryComplete();
        await _hearing;
        await _keeping.FinishAsync(Times, _clock.LostSeconds);
        _finished = true;
        Changed?.Invoke();
    }

    private ImmutableArray<AnnouncedTime> TimesNow()
    {
        double On(double seconds) => Math.Round(Math.Max(0, seconds - _clock.LateAt(seconds)), 2, MidpointRounding.AwayFromZero);
        return [.. _guide.Passes.Select(p => new AnnouncedTime(p.Cylinder, On(p.From), On(p.To), p.TakenBack))];
    }

    private static float[] Samples(byte[] pcm)
    {
        var samples = new float[pcm.Length / 2];
        for (var i = 0; i < samples.Length; i++)
        {
            samples[i] = BinaryPrimitives.ReadInt16LittleEndian(pcm.AsSpan(2 * i)) / 32768f;
        }

        return samples;
    }
}
