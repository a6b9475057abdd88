using System.Numerics;

namespace ShopDiag.Signals.Transform;

/// <summary>
/// Filters a stream of samples and keeps one in <see cref="Factor"/>. Output m stands for input <c>m Factor - Delay</c>: what came before the first sample counts as 0.
/// </summary>
internal sealed class Decimator
{
    private const int Chunk = 4096;
    private readonly float[] _taps;
    private readonly float[] _buffer;
    private int _skip;

    /// <summary>One in <paramref name="factor"/> (from 1) after filtering with a kernel that reads the same both ways.</summary>
    public Decimator(int factor, float[] taps)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(factor, 1);
        (Factor, _taps, _buffer) = (factor, taps, new float[taps.Length - 1 + Chunk]);
    }

    /// <summary>Inputs for each output.</summary>
    public int Factor { get; }

    /// <summary>Delay of the filter in input samples.</summary>
    public double Delay => (_taps.Length - 1) / 2.0;

    /// <summary>A decimator that keeps what lies below 0.8 of the new half sample rate.</summary>
    public static Decimator LowPass(int factor) => factor == 1 ? new(1, [1]) : new(factor, Windows.LowPass((14 * factor) + 1, 0.45 / factor));

    /// <summary>Takes samples in and appends what comes out.</summary>
    public void Feed(ReadOnlySpan<float> input, List<float> output)
    {
        var history = _taps.Length - 1;
        while (!input.IsEmpty)
        {
            var count = Math.Min(Chunk, input.Length);
            input[..count].CopyTo(_buffer.AsSpan(history));
            var at = _skip;
            for (; at < count; at += Factor)
            {
                output.Add(Dot(_buffer.AsSpan(at, _taps.Length), _taps));
            }

            _skip = at - count;
            _buffer.AsSpan(count, history).CopyTo(_buffer);
            input = input[count..];
        }
    }

    private static float Dot(ReadOnlySpan<float> a, ReadOnlySpan<float> b)
    {
        var sums = Vector<float>.Zero;
        var i = 0;
        for (; i <= a.Length - Vector<float>.Count; i += Vector<float>.Count)
        {
            sums += new Vector<float>(a[i..]) * new Vector<float>(b[i..]);
        }

        var sum = Vector.Sum(sums);
        for (; i < a.Length; i++)
        {
            sum += a[i] * b[i];
        }

        return sum;
    }
}
