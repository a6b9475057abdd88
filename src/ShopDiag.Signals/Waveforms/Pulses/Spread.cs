using ShopDiag.Signals.Transform;

namespace ShopDiag.Signals.Waveforms.Pulses;

/// <summary>A quantity over several pulses.</summary>
/// <param name="Median">The middle one.</param>
/// <param name="Deviation">1.4826 times the median distance from it, which is the standard deviation of normal scatter; 0 for one pulse.</param>
/// <param name="Count">Pulses it could be read of.</param>
public sealed record Spread(double Median, double Deviation, int Count)
{
    /// <summary>Of the values that are there; null when none is.</summary>
    public static Spread? Of(IEnumerable<double?> values)
    {
        double[] there = [.. values.OfType<double>()];
        if (there.Length == 0)
        {
            return null;
        }

        var middle = Middle.Of(there);
        return new Spread(middle, 1.4826 * Middle.Of(there.Select(v => Math.Abs(v - middle)).ToArray()), there.Length);
    }
}
