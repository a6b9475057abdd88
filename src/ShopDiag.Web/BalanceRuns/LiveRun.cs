using System.Buffers.Binary;
using System.Collections.Immutable;
using System.Threading.Channels;
using ShopDiag.Signals.Audio;
using ShopDiag.Signals.Guided;
using ShopDiag.Signals.Live;
using ShopDiag.Signals.Speed;
using ShopDiag.Storage.Recordings;

namespace ShopDiag.Web.BalanceRuns;

/// <summary>A guided run as the page shows it. Times in seconds on the run's own clock, which is also the recording's to within a block.</summary>
public sealed record RunView
{
    public required RunPhase Phase { get; init; }

    public required int? Cylinder { get; init; }

    /// <summary>Counts the phases: a cue is given once for each.</summary>
    public required int Turn { get; init; }

    /// <summary>Seconds until the phase ends by itself, when it was entered; null when it waits.</summary>
    public required double? Counts { get; init; }

    public required ImmutableArray<int> Left { get; init; }

    public required ImmutableArray<RunPass> Passes { get; init; }

    public required bool Overdue { get; init; }

    public required int? RestoreFirst { get; init; }

    public required bool Hunting { get; init; }

    /// <summary>The latest speed that was clear, rpm; null while none is.</summary>
    public required double? Rpm { get; init; }

    public required double BaseRpm { get; init; }

    /// <summary>The speed of the last half minute.</summary>
    public required ImmutableArray<SpeedPoint> Trace { get; init; }

    public required double LostSeconds { get; init; }

    public required double Seconds { get; init; }

    /// <summary>No sound has come for a while.</summary>
    public required bool Silent { get; init; }

    /// <summary>The file is written to its end.</summary>
    public required bool Finished { get; init; }
}

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
    private static readonly TimeSpan TickTime = TimeSpan.FromMilliseconds(100);

    private readonly Lock _gate = new();
    private readonly RecordingStore _store;
    private readonly TimeProvider _time;
    private readonly ILogger _log;
    private readonly long _began;
    private readonly EngineToHear _engine;
    private readonly GuidedRun _guide;
    private readonly Channel<byte[]> _sound = Channel.CreateUnbounded<byte[]>(new() { SingleReader = true });
    private readonly CancellationTokenSource _end = new();
    private readonly Queue<SpeedPoint> _trace = new();
    private readonly FileStream _file;
    private readonly Task _hearing;
    private readonly Task _ticking;
    private WavWriter? _writer;
    private LiveSpeed? _live;
    private int _rate;
    private long _expected;
    private long _base;
    private double _late = double.MaxValue;
    private double _lastSound;
    private double _lost;
    private double? _rpm;
    private double _rpmAt;
    private int _turn;
    private (RunPhase Phase, double Since, int? Cylinder) _seen;
    private (int, int) _saved;
    private bool _closing;
    private volatile bool _finished;

    /// <summary>Begins; the recording's row is there already.</summary>
    public LiveRun(BalanceRecording recording, RunPlan plan, EngineToHear engine, RecordingStore store, TimeProvider time, ILogger log)
    {
        ArgumentNullException.ThrowIfNull(recording);
        ArgumentNullException.ThrowIfNull(store);
        ArgumentNullException.ThrowIfNull(time);
        (Recording, Plan, _engine, _store, _time, _log, _began) = (recording, plan, engine, store, time, log, time.GetTimestamp());
        _guide = new(plan, 0);
        _file = store.CreateFile(recording.Id, RecordingKind.Sound);
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
                    LostSeconds = _lost,
                    Seconds = Now,
                    Silent = Now - _lastSound > SilentSeconds,
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
            if (_writer is null)
            {
                (_rate, _writer, _live) = (rate, new(_file, rate), new(_engine, rate));
            }
            else if (rate != _rate || _closing)
            {
                return false;
            }
            else
            {
                // What the recording's clock says now; the samples of the new stream count from there.
                _base = Math.Max(_expected, (long)((Now - _late) * _rate));
            }

            _lastSound = Now;
            return true;
        }
    }

    /// <summary>
    /// Takes in a block: 16 bits, little-endian, one channel. <paramref name="first"/> is the number of its first sample in its stream: a gap is filled with silence and counted, what
    /// comes twice is passed over.
    /// </summary>
    public void Feed(long first, byte[] pcm)
    {
        ArgumentNullException.ThrowIfNull(pcm);
        lock (_gate)
        {
            if (_closing || _writer is null || pcm.Length == 0 || pcm.Length % 2 != 0)
            {
                return;
            }

            var gap = _base + first - _expected;
            if (gap > 0)
            {
                gap = Math.Min(gap, (long)(RecordingStore.LongestSeconds * _rate) - _expected);
                _lost += (double)gap / _rate;
                Take(new byte[2 * Math.Max(0, gap)]);
            }

            if (gap > -pcm.Length / 2)
            {
                Take(gap < 0 ? pcm[(int)(-2 * gap)..] : pcm);
            }

            _lastSound = Now;
            _late = Math.Min(_late, _lastSound - ((double)_expected / _rate));
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

    private void Take(byte[] pcm)
    {
        if (pcm.Length > 0 && (double)_expected / _rate < RecordingStore.LongestSeconds)
        {
            _expected += pcm.Length / 2;
            _sound.Writer.TryWrite(pcm);
        }
    }

    private async Task HearAsync()
    {
        await foreach (var pcm in _sound.Reader.ReadAllAsync())
        {
            _writer!.Append(pcm);
            var points = _live!.Feed(Samples(pcm));
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
            if (now - _lastSound > SilentSeconds)
            {
                _rpm = null;
                _guide.Pause(now);
            }

            if (now - _lastSound > AbandonedSeconds || _live is { IsFull: true })
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

    private async Task SaveAsync()
    {
        RecordingPlan plan;
        lock (_gate)
        {
            var passes = (_guide.Passes.Length, _guide.Passes.Count(p => p.TakenBack));
            if (passes == _saved)
            {
                return;
            }

            (_saved, plan) = (passes, Recording.Plan with { Times = TimesNow() });
        }

        try
        {
            await _store.SetPlanAsync(Recording.Id, plan);
        }
        catch (Exception e) when (e is not OperationCanceledException)
        {
            // The run goes on; the end tries again.
            _log.LogError(e, "The turns of recording {Recording} could not be saved", Recording.Id);
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
        try
        {
            await _hearing;
            _writer?.Finish();
            await _file.DisposeAsync();
            await _store.SetPlanAsync(Recording.Id, Recording.Plan with { Times = Times });
            await _store.FinishAsync(Recording.Id, _writer?.Seconds ?? 0, _lost);
            if (Times.All(t => t.TakenBack))
            {
                await _store.SetRemovedAsync(Recording.Id, true);
            }
        }
        catch (Exception e) when (e is IOException or ObjectDisposedException or InvalidOperationException)
        {
            // The row and the file are there as far as they came; the order lists the recording as broken off.
            _log.LogError(e, "Recording {Recording} could not be closed", Recording.Id);
        }

        _finished = true;
        Changed?.Invoke();
    }

    private ImmutableArray<AnnouncedTime> TimesNow()
    {
        var late = _late < double.MaxValue ? _late : 0;
        double On(double seconds) => Math.Round(Math.Max(0, seconds - late), 2, MidpointRounding.AwayFromZero);
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
