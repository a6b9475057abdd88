namespace ShopDiag.Signals.Waveforms.Csv;

/// <summary>Samples as they come, in blocks: growing copies nothing, and at the end there is one array of the exact length.</summary>
internal sealed class SampleBlocks
{
    private const int BlockLength = 1 << 18;
    private readonly List<float[]> _blocks = [];
    private int _inLast = BlockLength;

    public int Count => _blocks.Count == 0 ? 0 : ((_blocks.Count - 1) * BlockLength) + _inLast;

    /// <summary>Samples that are not there.</summary>
    public int Gaps { get; private set; }

    public void Add(float sample)
    {
        if (_inLast == BlockLength)
        {
            _blocks.Add(new float[BlockLength]);
            _inLast = 0;
        }

        _blocks[^1][_inLast++] = sample;
        if (float.IsNaN(sample))
        {
            Gaps++;
        }
    }

    public float this[int index] => _blocks[index / BlockLength][index % BlockLength];

    /// <summary>All of it in one array. The blocks are given up on the way, so that at most one channel is in memory twice.</summary>
    public float[] Take()
    {
        var all = new float[Count];
        for (var b = 0; b < _blocks.Count; b++)
        {
            var from = b * BlockLength;
            Array.Copy(_blocks[b], 0, all, from, Math.Min(BlockLength, all.Length - from));
            _blocks[b] = [];
        }

        return all;
    }
}
