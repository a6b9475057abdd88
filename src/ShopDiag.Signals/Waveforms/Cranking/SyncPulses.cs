namespace ShopDiag.Signals.Waveforms.Cranking;

/// <summary>When the pulses of a sync trace begin.</summary>
internal static class SyncPulses
{
    /// <summary>Pulses closer than this are one: a spark rings, and some systems fire several times, seconds.</summary>
    private const double Dead = 0.06;

    /// <summary>Times from the first sample on, seconds, of the rare level's beginnings, be it the high or the low one; empty for a flat trace.</summary>
    public static List<double> Times(float[] samples, double rate)
    {
        var times = new List<double>();
        var finite = samples.Where(float.IsFinite).ToArray();
        if (finite.Length < 2)
        {
            return times;
        }

        var (low, high) = (finite.Min(), finite.Max());
        Transform.Middle.Select(finite, finite.Length / 2);
        double usual = finite[finite.Length / 2];
        var above = high - usual >= usual - low;
        var (level, back) = above ? (usual + (0.5 * (high - usual)), usual + (0.25 * (high - usual))) : (usual - (0.5 * (usual - low)), usual - (0.25 * (usual - low)));
        var (inside, last) = (false, double.NegativeInfinity);
        for (var i = 0; i < samples.Length && high > low; i++)
        {
            var beyond = above ? samples[i] > level : samples[i] < level;
            if (beyond && !inside && (i / rate) - last > Dead)
            {
                times.Add(i / rate);
            }

            last = beyond ? i / rate : last;
            inside = beyond || (inside && (above ? samples[i] > back : samples[i] < back));
        }

        return times;
    }
}
