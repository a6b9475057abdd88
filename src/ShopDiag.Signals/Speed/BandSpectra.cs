using ShopDiag.Signals.Transform;

namespace ShopDiag.Signals.Speed;

/// <summary>
/// Short spectra of a band on a logarithmic frequency axis, whitened: the logarithm of the amplitude (neper) over its own median among the neighbouring frequencies, held to
/// -1 ... 3.5. Whitening takes out the room and the microphone; the upper bound keeps one loud line (hum, a voice) from outvoting many orders.
/// </summary>
internal sealed class BandSpectra
{
    public const float Least = -1;
    public const float Most = 3.5f;

    /// <summary>Power under which there is no sound but rounding: 20 dB under the noise of a recording at -80 dB of full scale.</summary>
    private const float Silence = 1e-9f;

    private readonly Band _band;
    private readonly float[] _shape;
    private readonly float[] _window;
    private readonly RealFft _fft;
    private readonly float[] _log;
    private readonly int[] _bin;
    private readonly float[] _part;
    private readonly Whitening _whitening;

    /// <summary>
    /// Windows of <paramref name="seconds"/>; the median is taken over <paramref name="medianHz"/>; the axis has the grid's step, begins at its lowest frequency and
    /// ends at <paramref name="highestHz"/>.
    /// </summary>
    public BandSpectra(Band band, double seconds, double medianHz, SpeedGrid grid, double highestHz)
    {
        _band = band;
        _shape = Windows.Hann((int)(seconds * band.Rate));
        _window = new float[_shape.Length];
        _fft = new(PowerOfTwoFrom((int)(1.25 * _shape.Length)));
        _log = new float[_fft.Size / 2];
        var points = Math.Max(1, (int)(Math.Log(highestHz / grid.LowestHz) / grid.Step));
        (_bin, _part) = (new int[points], new float[points]);
        for (var i = 0; i < points; i++)
        {
            var at = grid.LowestHz * Math.Exp(i * grid.Step) * _fft.Size / band.Rate;
            (_bin[i], _part[i]) = ((int)at, (float)(at - (int)at));
        }

        BinHz = band.Rate / _fft.Size;
        _whitening = new((int)(medianHz / BinHz));
        LineHz = 1 / seconds;
    }

    /// <summary>Points of the axis.</summary>
    public int Points => _bin.Length;

    private double BinHz { get; }

    /// <summary>Half the width of a line.</summary>
    private double LineHz { get; }

    /// <summary>The spectrum around a time. What lies within a line's width of a frequency in <paramref name="masked"/> says nothing and is 0.</summary>
    public void At(double centre, ReadOnlySpan<double> masked, Span<float> axis)
    {
        _band.Window(centre, _window);
        var mean = Mean(_window);
        for (var i = 0; i < _window.Length; i++)
        {
            _window[i] = (_window[i] - mean) * _shape[i];
        }

        _fft.Power(_window, _log);
        foreach (ref var value in _log.AsSpan())
        {
            value = 0.5f * MathF.Log(value + Silence);
        }

        _whitening.Apply(_log);
        Mask(masked);
        for (var i = 0; i < axis.Length; i++)
        {
            var low = _log[_bin[i]];
            axis[i] = Math.Clamp(low + (_part[i] * (_log[_bin[i] + 1] - low)), Least, Most);
        }
    }

    private static float Mean(ReadOnlySpan<float> values)
    {
        var sum = 0f;
        foreach (var value in values)
        {
            sum += value;
        }

        return sum / values.Length;
    }

    private void Mask(ReadOnlySpan<double> masked)
    {
        foreach (var hz in masked)
        {
            var from = Math.Max(0, (int)Math.Ceiling((hz - LineHz) / BinHz));
            var to = Math.Min(_log.Length - 1, (int)((hz + LineHz) / BinHz));
            if (to >= from)
            {
                _log.AsSpan(from, to - from + 1).Clear();
            }
        }
    }

    private static int PowerOfTwoFrom(int least)
    {
        var size = 8;
        while (size < least)
        {
            size *= 2;
        }

        return size;
    }
}
