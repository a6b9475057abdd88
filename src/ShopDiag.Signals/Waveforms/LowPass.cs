namespace ShopDiag.Signals.Waveforms;

/// <summary>Brings a channel to a low even rate without shifting it in time; missing samples are bridged where few are missing.</summary>
internal static class LowPass
{
    /// <summary>Blocks of samples are averaged first down to about this many a second: the fine filter then costs the same for any recorder.</summary>
    private const double CoarseRate = 2000;

    /// <summary>
    /// <paramref name="samples"/> through a windowed sinc of the given corner, in hertz, read at <paramref name="rate"/> a second from the first sample on. NaN where half of the
    /// filter's reach has no sample.
    /// </summary>
    public static double[] Read(ReadOnlySpan<float> samples, double sampleRate, double corner, double rate)
    {
        var block = Math.Max(1, (int)(sampleRate / CoarseRate));
        var coarse = Blocks(samples, block);
        var coarseRate = sampleRate / block;
        var offset = (block - 1) / 2.0 / sampleRate;
        var reach = 1.5 / corner;
        var read = new double[(int)((samples.Length - 1) / sampleRate * rate) + 1];
        for (var i = 0; i < read.Length; i++)
        {
            var middle = ((i / rate) - offset) * coarseRate;
            var wide = reach * coarseRate;
            var (sum, weight, full) = (0.0, 0.0, 0.0);
            for (var j = Math.Max(0, (int)Math.Ceiling(middle - wide)); j <= Math.Min(coarse.Length - 1, (int)(middle + wide)); j++)
            {
                var w = Kernel((j - middle) / coarseRate, corner, reach);
                full += w;
                if (!double.IsNaN(coarse[j]))
                {
                    sum += w * coarse[j];
                    weight += w;
                }
            }

            read[i] = weight > 0.5 * full && full > 0 ? sum / weight : double.NaN;
        }

        return read;
    }

    private static double Kernel(double seconds, double corner, double reach)
    {
        var x = 2 * Math.PI * corner * seconds;
        var sinc = Math.Abs(x) < 1e-9 ? 1 : Math.Sin(x) / x;
        return sinc * (0.5 + (0.5 * Math.Cos(Math.PI * seconds / reach)));
    }

    private static double[] Blocks(ReadOnlySpan<float> samples, int block)
    {
        var blocks = new double[samples.Length / block];
        for (var i = 0; i < blocks.Length; i++)
        {
            var (sum, count) = (0.0, 0);
            foreach (var sample in samples.Slice(i * block, block))
            {
                if (float.IsFinite(sample))
                {
                    sum += sample;
                    count++;
                }
            }

            blocks[i] = count > 0 ? sum / count : double.NaN;
        }

        return blocks;
    }
}
