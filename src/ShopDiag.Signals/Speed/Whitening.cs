using ShopDiag.Signals.Transform;

namespace ShopDiag.Signals.Speed;

/// <summary>Takes from each value of a spectrum the usual level of its neighbourhood. That level is taken at a few places and among a few of the values, and drawn straight between.</summary>
internal sealed class Whitening
{
    /// <summary>Values that a level is taken from: enough for a spread of a tenth of the noise's own.</summary>
    private const int Sampled = 40;

    /// <summary>
    /// A little under the median: where the orders lie so close that their flanks fill the spectrum (three cylinders, one off, 600 rpm) the median itself is no longer noise.
    /// </summary>
    private const double Rank = 0.35;

    /// <summary>Places in the width of one neighbourhood.</summary>
    private const int Places = 4;

    private readonly int _width;
    private readonly int _stride;
    private readonly float[] _some = new float[(2 * Sampled) + 2];

    /// <summary>A neighbourhood of <paramref name="width"/> values, at least 9.</summary>
    public Whitening(int width)
    {
        _width = Math.Max(9, width);
        _stride = Math.Max(1, (_width + Sampled - 1) / Sampled);
    }

    /// <summary>Whitens in place.</summary>
    public void Apply(Span<float> log)
    {
        var hop = Math.Max(1, _width / Places);
        var count = ((log.Length - 1) / hop) + 2;
        Span<float> medians = count <= 2048 ? stackalloc float[count] : new float[count];
        for (var i = 0; i < count; i++)
        {
            medians[i] = Around(log, Math.Min(i * hop, log.Length - 1));
        }

        for (var i = 0; i < log.Length; i++)
        {
            var (place, within) = (i / hop, i % hop);
            log[i] -= medians[place] + ((medians[place + 1] - medians[place]) * within / hop);
        }
    }

    private float Around(ReadOnlySpan<float> log, int centre)
    {
        // At the ends the neighbourhood is moved in rather than cut, so that its median rests on as many values as elsewhere.
        var start = Math.Clamp(centre - (_width / 2), 0, Math.Max(0, log.Length - _width));
        var end = Math.Min(start + _width, log.Length);
        var count = 0;
        for (var i = start; i < end; i += _stride)
        {
            _some[count++] = log[i];
        }

        return Middle.Select(_some.AsSpan(0, count), (int)(Rank * count));
    }
}
