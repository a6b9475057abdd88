namespace ShopDiag.Signals.Waveforms.Pulses;

/// <summary>
/// A current taken for that of a resistance and an inductance: di/dt = a - b i. Fitted in its summed form i = c + a t - b (sum of i dt), in which noise is averaged and never differentiated.
/// </summary>
/// <param name="InitialSlope">a, A/s: the driving voltage over the inductance.</param>
/// <param name="Rate">b, 1/s: one over the time constant; 0 for a straight line, below 0 for a current that bends upwards.</param>
/// <param name="Scatter">How far the samples are from the curve, A (root mean square).</param>
internal sealed record RiseFit(double InitialSlope, double Rate, double Scatter)
{
    /// <summary>Fits the samples from one index to another (not included); null for fewer than eight.</summary>
    public static RiseFit? Of(Pulse pulse, int from, int to)
    {
        if (to - from < 8)
        {
            return null;
        }

        // Normal equations of (1, t, charge), in steps of time so that they are well scaled.
        Span<double> sums = stackalloc double[9];
        var charge = 0.0;
        for (var k = from; k < to; k++)
        {
            charge += k == from ? 0 : (pulse.Amps[k] + pulse.Amps[k - 1]) / 2;
            double t = k - from, i = pulse.Amps[k];
            Add(sums, t, charge, i);
        }

        if (Solve(sums) is not { } solved)
        {
            return null;
        }

        var (c, a, b) = solved;
        var squares = 0.0;
        charge = 0;
        for (var k = from; k < to; k++)
        {
            charge += k == from ? 0 : (pulse.Amps[k] + pulse.Amps[k - 1]) / 2;
            squares += Math.Pow(pulse.Amps[k] - (c + (a * (k - from)) + (b * charge)), 2);
        }

        return new RiseFit(a / pulse.Step, -b / pulse.Step, Math.Sqrt(squares / (to - from)));
    }

    private static void Add(Span<double> sums, double t, double q, double i)
    {
        sums[0] += 1;
        sums[1] += t;
        sums[2] += q;
        sums[3] += t * t;
        sums[4] += t * q;
        sums[5] += q * q;
        sums[6] += i;
        sums[7] += t * i;
        sums[8] += q * i;
    }

    /// <summary>Cramer's rule on the centred pair; null where time and charge cannot be told apart.</summary>
    private static (double C, double A, double B)? Solve(ReadOnlySpan<double> s)
    {
        var n = s[0];
        var (tt, tq, qq) = (s[3] - (s[1] * s[1] / n), s[4] - (s[1] * s[2] / n), s[5] - (s[2] * s[2] / n));
        var (ti, qi) = (s[7] - (s[1] * s[6] / n), s[8] - (s[2] * s[6] / n));
        var determinant = (tt * qq) - (tq * tq);
        if (!(determinant > 1e-12 * tt * qq))
        {
            return null;
        }

        var (a, b) = (((ti * qq) - (qi * tq)) / determinant, ((tt * qi) - (tq * ti)) / determinant);
        return ((s[6] - (a * s[1]) - (b * s[2])) / n, a, b);
    }
}

/// <summary>Straight lines through stretches of a pulse.</summary>
internal static class Slopes
{
    /// <summary>Slope (A/s) and middle level (A) of the least squares line over the samples from one index to another (not included); at least two.</summary>
    public static (double Slope, double Level) Line(Pulse pulse, int from, int to)
    {
        var n = to - from;
        var (middle, y, xy) = ((n - 1) / 2.0, 0.0, 0.0);
        for (var k = 0; k < n; k++)
        {
            y += pulse.Amps[from + k];
            xy += (k - middle) * pulse.Amps[from + k];
        }

        return (xy / (n * ((double)n * n - 1) / 12) / pulse.Step, y / n);
    }

    /// <summary>The samples that a slope needs so that noise leaves an error below <paramref name="wanted"/>, A/s.</summary>
    public static int SamplesFor(double noise, double step, double wanted) => (int)Math.Ceiling(Math.Cbrt(12 * Math.Pow(noise / (step * wanted), 2)));
}
