namespace ShopDiag.Signals.Speed;

/// <summary>What a moment of sound says for each speed of a grid: both bands, all orders, less the median over the speeds.</summary>
internal sealed class SoundVotes
{
    /// <summary>Lowest frequency that a microphone and a shop leave usable, in the direct band.</summary>
    private const double DirectFromHz = 15;

    private const double DirectToHz = 1000;
    private const double EnvelopeFromHz = 3;
    private const double EnvelopeToHz = 350;

    /// <summary>The neighbourhood for whitening, in firing frequencies.</summary>
    private const double MedianFirings = 2.2;

    /// <summary>How much the envelope counts beside the direct band.</summary>
    private const float EnvelopeShare = 1f;

    private readonly BandSpectra _direct;
    private readonly BandSpectra _envelope;
    private readonly OrderComb _directComb;
    private readonly OrderComb _envelopeComb;
    private readonly float[] _axis;
    private readonly float[] _sorted;

    /// <summary>For windows of <paramref name="seconds"/> around a usual speed.</summary>
    public SoundVotes(SoundBands bands, int cylinders, SpeedGrid grid, double usualRpm, double seconds)
    {
        var median = MedianFirings * EngineToHear.FiringHz(usualRpm, cylinders);
        _direct = new(bands.Direct, seconds, median, grid, Math.Min(DirectToHz, 0.44 * bands.Direct.Rate));
        _envelope = new(bands.Envelope, seconds, median, grid, EnvelopeToHz);
        _directComb = new(cylinders, grid, _direct.Points, DirectFromHz, DirectToHz);
        _envelopeComb = new(cylinders, grid, _envelope.Points, EnvelopeFromHz, EnvelopeToHz);
        _axis = new float[Math.Max(_direct.Points, _envelope.Points)];
        _sorted = new float[grid.Count];
    }

    /// <summary>The votes at a time.</summary>
    public void At(double centre, SteadyLines direct, SteadyLines envelope, Span<float> row)
    {
        row.Clear();
        var axis = _axis.AsSpan(0, _direct.Points);
        _direct.At(centre, direct.At(centre), axis);
        _directComb.Vote(axis, 1, row);
        axis = _axis.AsSpan(0, _envelope.Points);
        _envelope.At(centre, envelope.At(centre), axis);
        _envelopeComb.Vote(axis, EnvelopeShare, row);
        row.CopyTo(_sorted);
        var median = Transform.Middle.Select(_sorted, _sorted.Length / 2);
        foreach (ref var vote in row)
        {
            vote -= median;
        }
    }
}
