using ShopDiag.Signals.Waveforms.Pulses;

namespace ShopDiag.Signals.Waveforms.Injector;

/// <summary>What was found of the needle's movement.</summary>
internal readonly record struct Hump(OpeningHump Kind, double? Seconds, double? Depth);

/// <summary>
/// Finds the needle's movement in the rise of an injector's current: while it moves, its back-EMF takes slope away, and when it meets its stop the slope comes back. The slope is set against that of a
/// winding alone, which falls in a straight line with the current; the needle's stop is the corner behind the lowest ratio.
/// </summary>
internal static class HumpFinder
{
    /// <summary>Natural logarithm of slope over the winding's slope: a moving needle is far below, a stuck one above. Our own choice between -0.83 and -0.12, measured on synthetic pulses.</summary>
    private const double Moving = -0.35;

    private const double Stuck = -0.2;

    /// <summary>The slope must fall by this many of its own standard errors.</summary>
    private const double OverNoise = 4;

    /// <summary>Behind the stop the slope comes back by this much (natural logarithm).</summary>
    private const double ComesBack = 0.25;

    /// <summary>Where the winding's slope has fallen to this share of its start, a ratio of slopes is mostly noise.</summary>
    private const double StillRising = 0.12;

    /// <summary>The slope's error from noise, as a share of the slope at the start.</summary>
    private const double SlopeError = 0.05;

    /// <summary>A rise that stands still or falls has no logarithm; it is told as this.</summary>
    private const double LowestRatio = 0.05;

    private const double ShortestWindow = 50e-6;

    /// <summary>Looks at the samples before <paramref name="rising"/>.</summary>
    public static Hump Find(Pulse pulse, int rising, double noise)
    {
        var unclear = new Hump(OpeningHump.Unclear, null, null);
        if (rising < 40)
        {
            return unclear;
        }

        var start = Slopes.Line(pulse, 0, rising / 8).Slope;
        var window = Math.Max(Math.Max(5, (int)(ShortestWindow / pulse.Step)), start > 0 ? Slopes.SamplesFor(noise, pulse.Step, SlopeError * start) : int.MaxValue);
        if (window > rising / 7)
        {
            return unclear;
        }

        var slopes = new double[rising - window + 1];
        for (var k = 0; k < slopes.Length; k++)
        {
            slopes[k] = Slopes.Line(pulse, k, k + window).Slope;
        }

        double[] levels = [.. slopes.Select((_, k) => pulse.Amps[k + (window / 2)])];
        return Winding(levels, slopes) is { } winding ? Judge(pulse, slopes, levels, window, winding, SlopeError * start) : unclear;
    }

    private static Hump Judge(Pulse pulse, double[] slopes, double[] levels, int window, (double A, double B) winding, double error)
    {
        // Ratios, not their logarithms: a slope below 0 has none, and how far below is what finds the stop.
        var (lowest, least, recovered) = (-1, 1.0, 1.0);
        for (var k = window / 2; k < slopes.Length; k++)
        {
            var expected = winding.A - (winding.B * levels[k]);
            if (expected < StillRising * winding.A)
            {
                break;
            }

            var ratio = slopes[k] / expected;
            if (ratio < least && expected - slopes[k] > OverNoise * error)
            {
                (lowest, least, recovered) = (k, ratio, ratio);
            }

            recovered = Math.Max(recovered, ratio);
        }

        var (depth, back) = (Logarithm(least), Logarithm(recovered));
        return lowest < 0 || depth > Stuck ? new Hump(OpeningHump.Absent, null, depth)
            : depth < Moving && back > depth + ComesBack ? new Hump(OpeningHump.Present, pulse.TimeOf(Corner(pulse, slopes, lowest, window)), depth)
            : new Hump(OpeningHump.Unclear, null, depth);

        static double Logarithm(double ratio) => Math.Log(Math.Max(ratio, LowestRatio));
    }

    /// <summary>Slope = A - B current, through the points that a moving needle does not pull down.</summary>
    private static (double A, double B)? Winding(double[] levels, double[] slopes)
    {
        bool[] used = [.. slopes.Select(_ => true)];
        var (a, b) = (0.0, 0.0);
        for (var round = 0; round < 12; round++)
        {
            var (n, x, y, xx, xy) = (0, 0.0, 0.0, 0.0, 0.0);
            for (var k = 0; k < slopes.Length; k++)
            {
                if (used[k])
                {
                    (n, x, y, xx, xy) = (n + 1, x + levels[k], y + slopes[k], xx + (levels[k] * levels[k]), xy + (levels[k] * slopes[k]));
                }
            }

            var spread = (n * xx) - (x * x);
            if (n < slopes.Length / 5 || spread <= 0)
            {
                break;
            }

            b = -((n * xy) - (x * y)) / spread;
            a = (y + (b * x)) / n;
            var changed = false;
            for (var k = 0; k < slopes.Length; k++)
            {
                var stays = slopes[k] > a - (b * levels[k]) - (0.06 * a);
                (changed, used[k]) = (changed | (stays != used[k]), stays);
            }

            if (!changed)
            {
                break;
            }
        }

        return a > 0 && b >= 0 ? (a, b) : null;
    }

    /// <summary>The needle's stop: where the slope comes back the most from one window to the next, and there where two straight lines meet that fit the samples best.</summary>
    private static int Corner(Pulse pulse, double[] slopes, int lowest, int window)
    {
        var (jump, most) = (lowest + window, double.NegativeInfinity);
        for (var k = Math.Max(0, lowest - (window / 2)); k <= lowest + (4 * window) && k + window < slopes.Length; k++)
        {
            var back = slopes[k + window] - slopes[k];
            (jump, most) = back > most ? (k + window, back) : (jump, most);
        }

        var (from, to) = (Math.Max(0, jump - (3 * window / 2)), Math.Min(pulse.Amps.Length, jump + (3 * window / 2)));
        var (best, least) = (jump, double.PositiveInfinity);
        for (var corner = Math.Max(from + 3, jump - window); corner <= Math.Min(to - 3, jump + window); corner++)
        {
            var squares = Squares(pulse, from, corner) + Squares(pulse, corner, to);
            (best, least) = squares < least ? (corner, squares) : (best, least);
        }

        return best;
    }

    private static double Squares(Pulse pulse, int from, int to)
    {
        var (slope, level) = Slopes.Line(pulse, from, to);
        var squares = 0.0;
        for (var k = from; k < to; k++)
        {
            squares += Math.Pow(pulse.Amps[k] - level - (slope * pulse.Step * (k - ((from + to - 1) / 2.0))), 2);
        }

        return squares;
    }
}
