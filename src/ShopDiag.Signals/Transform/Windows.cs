namespace ShopDiag.Signals.Transform;

/// <summary>Windows and filter kernels.</summary>
internal static class Windows
{
    /// <summary>The Hann window of <paramref name="length"/> samples, from 1 on; never 0 inside.</summary>
    public static float[] Hann(int length)
    {
        var window = new float[length];
        for (var i = 0; i < length; i++)
        {
            window[i] = (float)(0.5 - (0.5 * Math.Cos(2 * Math.PI * (i + 0.5) / length)));
        }

        return window;
    }

    /// <summary>
    /// A low-pass kernel with unit gain for zero frequency: sinc with a Blackman window. <paramref name="cutoff"/> is the half-amplitude frequency as a share
    /// of the sample rate, 0 to 0.5; the passage from pass to stop is about 5.5/<paramref name="length"/> of the sample rate wide, more than 70 dB deep.
    /// </summary>
    public static float[] LowPass(int length, double cutoff)
    {
        var taps = new double[length];
        var middle = (length - 1) / 2.0;
        for (var i = 0; i < length; i++)
        {
            var x = i - middle;
            var sinc = Math.Abs(x) < 1e-9 ? 2 * cutoff : Math.Sin(2 * Math.PI * cutoff * x) / (Math.PI * x);
            var turn = 2 * Math.PI * (i + 0.5) / length;
            taps[i] = sinc * (0.42 - (0.5 * Math.Cos(turn)) + (0.08 * Math.Cos(2 * turn)));
        }

        return Normalised(taps);
    }

    /// <summary>A smoothing kernel without negative weights and with unit gain: what it makes of positive samples is positive.</summary>
    public static float[] Smoothing(int length) => Normalised([.. Hann(length).Select(v => (double)v)]);

    private static float[] Normalised(double[] taps)
    {
        var sum = taps.Sum();
        return [.. taps.Select(t => (float)(t / sum))];
    }
}
