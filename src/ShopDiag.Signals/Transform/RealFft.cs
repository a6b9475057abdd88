using System.Numerics;
using System.Runtime.InteropServices;

namespace ShopDiag.Signals.Transform;

/// <summary>
/// Power spectrum of real samples: a radix-2 transform of half the length over the even and odd samples as real and imaginary parts
/// (the packed form of any text on signal processing), in single precision. One instance is for one thread.
/// </summary>
internal sealed class RealFft
{
    private readonly int _half;
    private readonly int[] _reversed;
    private readonly float[] _cos;
    private readonly float[] _sin;
    private readonly float[] _splitCos;
    private readonly float[] _splitSin;
    private readonly float[] _re;
    private readonly float[] _im;

    /// <summary>Prepares for <paramref name="size"/> samples: a power of two from 8.</summary>
    public RealFft(int size)
    {
        if (size < 8 || !BitOperations.IsPow2(size))
        {
            throw new ArgumentOutOfRangeException(nameof(size), size, "The length of a transform is a power of two from 8.");
        }

        Size = size;
        _half = size / 2;
        _reversed = Reversed(_half);
        (_cos, _sin, _splitCos, _splitSin) = (new float[_half], new float[_half], new float[_half], new float[_half]);
        (_re, _im) = (new float[_half], new float[_half]);

        // The factors of the stage with butterflies of width w lie side by side from w on, so that they load as vectors.
        for (var width = 1; width < _half; width *= 2)
        {
            for (var j = 0; j < width; j++)
            {
                (_sin[width + j], _cos[width + j]) = Turn(-Math.PI * j / width);
            }
        }

        for (var k = 0; k < _half; k++)
        {
            (_splitSin[k], _splitCos[k]) = Turn(-2 * Math.PI * k / size);
        }
    }

    /// <summary>Number of samples.</summary>
    public int Size { get; }

    /// <summary>
    /// Squared magnitudes of the lines 0 to <c>Size/2 - 1</c>; line k lies at k/Size of the sample rate. Samples that are missing at the end count as 0.
    /// </summary>
    public void Power(ReadOnlySpan<float> samples, Span<float> power)
    {
        Load(samples);
        Transform();
        power[0] = Square(_re[0] + _im[0]);
        for (var k = 1; k < _half; k++)
        {
            var m = _half - k;
            var (evenRe, evenIm) = (0.5f * (_re[k] + _re[m]), 0.5f * (_im[k] - _im[m]));
            var (oddRe, oddIm) = (0.5f * (_im[k] + _im[m]), -0.5f * (_re[k] - _re[m]));
            var re = evenRe + (_splitCos[k] * oddRe) - (_splitSin[k] * oddIm);
            var im = evenIm + (_splitCos[k] * oddIm) + (_splitSin[k] * oddRe);
            power[k] = (re * re) + (im * im);
        }
    }

    private void Load(ReadOnlySpan<float> samples)
    {
        for (var i = 0; i < _half; i++)
        {
            var (at, from) = (_reversed[i], 2 * i);
            _re[at] = from < samples.Length ? samples[from] : 0;
            _im[at] = from + 1 < samples.Length ? samples[from + 1] : 0;
        }
    }

    private void Transform()
    {
        for (var width = 1; width < _half; width *= 2)
        {
            if (width < Vector<float>.Count)
            {
                NarrowStage(width);
            }
            else
            {
                WideStage(width);
            }
        }
    }

    private void NarrowStage(int width)
    {
        for (var start = 0; start < _half; start += 2 * width)
        {
            for (var j = 0; j < width; j++)
            {
                var (a, b) = (start + j, start + j + width);
                var re = (_re[b] * _cos[width + j]) - (_im[b] * _sin[width + j]);
                var im = (_re[b] * _sin[width + j]) + (_im[b] * _cos[width + j]);
                (_re[b], _im[b]) = (_re[a] - re, _im[a] - im);
                (_re[a], _im[a]) = (_re[a] + re, _im[a] + im);
            }
        }
    }

    private void WideStage(int width)
    {
        var cos = MemoryMarshal.Cast<float, Vector<float>>(_cos.AsSpan(width, width));
        var sin = MemoryMarshal.Cast<float, Vector<float>>(_sin.AsSpan(width, width));
        for (var start = 0; start < _half; start += 2 * width)
        {
            var topRe = MemoryMarshal.Cast<float, Vector<float>>(_re.AsSpan(start, width));
            var topIm = MemoryMarshal.Cast<float, Vector<float>>(_im.AsSpan(start, width));
            var lowRe = MemoryMarshal.Cast<float, Vector<float>>(_re.AsSpan(start + width, width));
            var lowIm = MemoryMarshal.Cast<float, Vector<float>>(_im.AsSpan(start + width, width));
            for (var j = 0; j < cos.Length; j++)
            {
                var re = (lowRe[j] * cos[j]) - (lowIm[j] * sin[j]);
                var im = (lowRe[j] * sin[j]) + (lowIm[j] * cos[j]);
                (lowRe[j], lowIm[j]) = (topRe[j] - re, topIm[j] - im);
                (topRe[j], topIm[j]) = (topRe[j] + re, topIm[j] + im);
            }
        }
    }

    private static int[] Reversed(int count)
    {
        var bits = BitOperations.Log2((uint)count);
        var reversed = new int[count];
        for (var i = 0; i < count; i++)
        {
            reversed[i] = (reversed[i >> 1] >> 1) | ((i & 1) << (bits - 1));
        }

        return reversed;
    }

    private static (float Sin, float Cos) Turn(double angle) => ((float)Math.Sin(angle), (float)Math.Cos(angle));

    private static float Square(float value) => value * value;
}
