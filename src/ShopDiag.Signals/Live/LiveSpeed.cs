using ShopDiag.Signals.Speed;

namespace ShopDiag.Signals.Live;

/// <summary>
/// Engine speed while the sound comes in: a point each tenth of a second for the moment <see cref="Delay"/> before, from what was heard until then only. Feed it blocks of any size (100 to
/// 200 ms suit). When the run is over, <see cref="Trace"/> goes over the whole recording again with everything that takes hindsight. One instance is for one thread.
/// </summary>
public sealed class LiveSpeed
{
    /// <summary>Seconds between points.</summary>
    public const double HopSeconds = 0.1;

    /// <summary>A shorter window than with hindsight: half of it is delay.</summary>
    private const double WindowSeconds = 0.8;

    private const double LongestChange = 0.06;
    private const float Price = 0.002f;

    /// <summary>How fast what was heard long ago stops counting, so that a wrong start is soon left.</summary>
    private const float Forgetting = 0.93f;

    private const double PreferenceWidth = 0.2;
    private const double PreferenceWeight = 0.03;
    private const double FullVotes = 0.6;

    private readonly SoundBands _bands;
    private readonly EngineToHear _engine;
    private readonly SpeedGrid _grid;
    private readonly SoundVotes _votes;
    private readonly BestPath _path;
    private readonly VoteTable _row;
    private readonly float[] _preference;
    private readonly sbyte[] _from;
    private double _next;

    /// <summary>For an engine, whose rough speed should be known, and sound of a rate of 8000 to 96000 samples a second.</summary>
    public LiveSpeed(EngineToHear engine, int sampleRate)
    {
        ArgumentNullException.ThrowIfNull(engine);
        ArgumentOutOfRangeException.ThrowIfLessThan(sampleRate, Audio.WavFormat.LowestRate);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(sampleRate, Audio.WavFormat.HighestRate);
        (_engine, _bands) = (engine, new(sampleRate));
        var usual = engine.RoughRpm ?? SoundSpeed.UsualRpm;
        _grid = engine.RoughRpm is { } rough ? SpeedGrid.Between(0.5 * rough, 1.5 * rough) : SpeedGrid.Between(400, 3300);
        _votes = new(_bands, engine.Cylinders, _grid, usual, WindowSeconds);
        _path = new(_grid.Count, (int)(LongestChange / _grid.Step), Price);
        _row = new(1, _grid.Count);
        _from = new sbyte[_grid.Count];
        _preference = [.. Enumerable.Range(0, _grid.Count).Select(i => (float)(PreferenceWeight * 0.5 * Math.Pow(Math.Log(_grid.Rpm(i) / usual) / PreferenceWidth, 2)))];
        Delay = (WindowSeconds / 2) + _bands.Direct.Delay;
        _next = WindowSeconds / 2;
    }

    /// <summary>Seconds from a moment of sound to the point that stands for it; not counting how long a block takes to arrive.</summary>
    public double Delay { get; }

    /// <summary>Seconds heard so far.</summary>
    public double Seconds => _bands.Seconds;

    /// <summary>True once <see cref="SoundSpeed.LongestSeconds"/> were heard: further blocks are not taken in.</summary>
    public bool IsFull => Seconds >= SoundSpeed.LongestSeconds;

    /// <summary>Takes in a block (mono, -1 to 1) and gives the points that it completes, none to several.</summary>
    public IReadOnlyList<SpeedPoint> Feed(ReadOnlySpan<float> block)
    {
        var points = new List<SpeedPoint>();
        if (IsFull)
        {
            return points;
        }

        _bands.Feed(block);
        for (; _next + Delay <= _bands.Seconds; _next += HopSeconds)
        {
            points.Add(Point());
        }

        return points;
    }

    /// <summary>The speed of everything heard so far, with hindsight; null while less than <see cref="SoundSpeed.ShortestSeconds"/> were heard.</summary>
    public SpeedTrace? Trace() => Seconds < SoundSpeed.ShortestSeconds ? null : SoundSpeed.Follow(_bands, _engine);

    private SpeedPoint Point()
    {
        var row = _row[0];
        _votes.At(_next, SteadyLines.None, SteadyLines.None, row);
        for (var i = 0; i < row.Length; i++)
        {
            row[i] -= _preference[i];
            _path.Sums[i] *= Forgetting;
        }

        _path.Advance(row, _from);
        var at = BestPath.Highest(_path.Sums);
        return new(_next, _grid.Rpm(_row.Peak(0, at)), Math.Clamp(row[at] / FullVotes, 0, 1));
    }
}
