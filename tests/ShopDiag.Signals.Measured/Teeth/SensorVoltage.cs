using ShopDiag.Signals.Waveforms.Teeth;

namespace ShopDiag.Signals.Measured.Teeth;

/// <summary>The voltage of a crank sensor over teeth that pass at given times.</summary>
internal static class SensorVoltage
{
    /// <summary>
    /// Reluctance: one swing a tooth, falling through zero at its time, as high as the tooth is fast; still in a gap. Hall: 0.3 V, and 4.7 V for two fifths of the way to the next tooth.
    /// Both with normal noise of a standard deviation in volts.
    /// </summary>
    public static float[] Of(double[] times, double rate, ToothSensor sensor, double noise, int seed)
    {
        var random = new Random(seed);
        var samples = new float[(int)(times[^1] * rate)];
        Array.Fill(samples, sensor == ToothSensor.Hall ? 0.3f : 0);
        for (var k = 1; k + 1 < times.Length; k++)
        {
            var width = Math.Min(times[k + 1] - times[k], times[k] - times[k - 1]);
            var (from, to) = sensor == ToothSensor.Hall ? (times[k], times[k] + (0.4 * width)) : (times[k] - (width / 2), times[k] + (width / 2));
            for (var i = (int)Math.Ceiling(from * rate); i < to * rate && i < samples.Length; i++)
            {
                samples[i] = sensor == ToothSensor.Hall ? 4.7f : (float)(-0.005 / width * Math.Sin(2 * Math.PI * ((i / rate) - times[k]) / width));
            }
        }

        for (var i = 0; i < samples.Length; i++)
        {
            samples[i] += (float)(noise * Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble()));
        }

        return samples;
    }
}
