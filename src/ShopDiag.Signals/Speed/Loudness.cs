using ShopDiag.Signals.Transform;

namespace ShopDiag.Signals.Speed;

/// <summary>
/// How much a moment of sound may say: less, the louder it is than the recording mostly is. An idling engine keeps its loudness; an impact wrench, a blow on metal or a shout does not, and has a rhythm of its own.
/// </summary>
internal sealed class Loudness
{
    /// <summary>Half of the window whose loudness is taken, seconds.</summary>
    private const double Reach = 0.3;

    /// <summary>Neper over the median that still say nothing.</summary>
    private const double Usual = 0.2;

    /// <summary>From there on, the neper at which a moment counts half.</summary>
    private const double Halved = 0.35;

    private readonly double[] _over;

    /// <summary>Of the logarithm of the loudness, at moments so many seconds apart.</summary>
    public Loudness(Band envelope, int moments, double hopSeconds)
    {
        var window = new float[Math.Max(1, (int)(2 * Reach * envelope.Rate))];
        var last = Math.Max(0, (envelope.Samples.Count / envelope.Rate) - envelope.Delay - Reach);
        _over = new double[moments];
        for (var i = 0; i < moments; i++)
        {
            envelope.Window(Math.Clamp(i * hopSeconds, Math.Min(Reach, last), last), window);
            foreach (var level in window)
            {
                _over[i] += level / window.Length;
            }
        }

        var median = Middle.Of(_over);
        foreach (ref var over in _over.AsSpan())
        {
            over -= median;
        }
    }

    /// <summary>From 1 for the usual loudness towards 0.</summary>
    public float Weight(int moment)
    {
        var over = Math.Max(0, _over[moment] - Usual) / Halved;
        return (float)(1 / (1 + (over * over)));
    }
}
