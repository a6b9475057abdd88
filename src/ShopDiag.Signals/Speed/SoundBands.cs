using System.Runtime.InteropServices;
using ShopDiag.Signals.Transform;

namespace ShopDiag.Signals.Speed;

/// <summary>Samples of one band at an even rate. Grows; its owner decides how far.</summary>
/// <param name="rate">Samples a second.</param>
/// <param name="delay">By how many seconds the filters shift the sound back.</param>
internal sealed class Band(double rate, double delay)
{
    public List<float> Samples { get; } = [];

    public double Rate => rate;

    public double Delay => delay;

    public Span<float> Span => CollectionsMarshal.AsSpan(Samples);

    /// <summary>The same samples once more.</summary>
    public Band Copy()
    {
        var copy = new Band(rate, delay);
        copy.Samples.AddRange(Samples);
        return copy;
    }

    /// <summary>The place among the samples that belongs to a time of the recording.</summary>
    public double At(double seconds) => (seconds + delay) * rate;

    /// <summary>The samples of a window around a time; those outside the recording are 0.</summary>
    public void Window(double centre, Span<float> window)
    {
        var start = (int)Math.Round(At(centre), MidpointRounding.AwayFromZero) - (window.Length / 2);
        var from = Math.Clamp(-start, 0, window.Length);
        var to = Math.Clamp(Samples.Count - start, from, window.Length);
        window[..from].Clear();
        window[to..].Clear();
        if (to > from)
        {
            Span.Slice(start + from, to - from).CopyTo(window[from..]);
        }
    }
}

/// <summary>
/// Splits the sound of an engine, as it comes, into the two bands its speed is read from: the direct band (up to 1 kHz, orders of the firing frequency themselves) and the
/// envelope of what lies above 700 Hz (knock, valves and hiss beat with the cycle where a microphone does not hear low frequencies).
/// </summary>
internal sealed class SoundBands
{
    private const double MidRate = 8000;
    private const double DirectRate = 2400;
    private const double EnvelopeRate = 1000;

    /// <summary>Below it lies what the direct band covers already.</summary>
    private const double EnvelopeFromHz = 700;

    /// <summary>Far below the quietest recording; keeps the logarithm of silence finite.</summary>
    private const float Silence = 1e-7f;

    private readonly Decimator _toMid;
    private readonly Decimator _toDirect;
    private readonly Decimator _toEnvelope;
    private readonly Biquad _high1;
    private readonly Biquad _high2;
    private readonly List<float> _mid = [];
    private readonly List<float> _loud = [];
    private long _heard;

    /// <summary>For sound of <paramref name="sampleRate"/> samples a second, 8000 to 96000.</summary>
    public SoundBands(int sampleRate)
    {
        SampleRate = sampleRate;
        _toMid = Decimator.LowPass((int)(sampleRate / MidRate));
        var mid = (double)sampleRate / _toMid.Factor;
        _toDirect = Decimator.LowPass((int)(mid / DirectRate));
        var factor = (int)(mid / EnvelopeRate);
        _toEnvelope = new(factor, Windows.Smoothing((2 * factor) + 1));
        (_high1, _high2) = (Biquad.HighPass(EnvelopeFromHz / mid, 0.5412), Biquad.HighPass(EnvelopeFromHz / mid, 1.3066));
        var before = _toMid.Delay / sampleRate;
        Direct = new(mid / _toDirect.Factor, before + (_toDirect.Delay / mid));
        Envelope = new(mid / factor, before + (_toEnvelope.Delay / mid));
    }

    private SoundBands(SoundBands other)
    {
        (SampleRate, _heard, _toMid, _toDirect, _toEnvelope, _high1, _high2) = (other.SampleRate, other._heard, other._toMid, other._toDirect, other._toEnvelope, other._high1, other._high2);
        (Direct, Envelope) = (other.Direct.Copy(), other.Envelope.Copy());
    }

    public int SampleRate { get; }

    public Band Direct { get; }

    /// <summary>Natural logarithm of the smoothed loudness above 700 Hz.</summary>
    public Band Envelope { get; }

    /// <summary>How much has been heard, in seconds.</summary>
    public double Seconds => (double)_heard / SampleRate;

    /// <summary>A copy for looking at, without the hum of the mains. It is not fed any more.</summary>
    public SoundBands WithoutHum()
    {
        var copy = new SoundBands(this);
        MainsHum.TakeOut(copy.Direct, 0.42 * copy.Direct.Rate);
        MainsHum.TakeOut(copy.Envelope, 0.42 * copy.Envelope.Rate);
        return copy;
    }

    /// <summary>Takes in the next samples, mono.</summary>
    public void Feed(ReadOnlySpan<float> samples)
    {
        _heard += samples.Length;
        _mid.Clear();
        _loud.Clear();
        _toMid.Feed(samples, _mid);
        var mid = CollectionsMarshal.AsSpan(_mid);
        _toDirect.Feed(mid, Direct.Samples);
        foreach (var sample in mid)
        {
            _loud.Add(Math.Abs(_high2.Next(_high1.Next(sample))));
        }

        var before = Envelope.Samples.Count;
        _toEnvelope.Feed(CollectionsMarshal.AsSpan(_loud), Envelope.Samples);
        foreach (ref var level in Envelope.Span[before..])
        {
            level = MathF.Log(level + Silence);
        }
    }
}
