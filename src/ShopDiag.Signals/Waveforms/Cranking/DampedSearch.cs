namespace ShopDiag.Signals.Waveforms.Cranking;

/// <summary>Levenberg's and Marquardt's search for the least sum of squares, slopes by small steps, every unknown within its bounds.</summary>
internal static class DampedSearch
{
    /// <summary>The sum of squares must fall by this share, or the search is over.</summary>
    private const double LeastGain = 1e-5;

    /// <summary>
    /// Walks from <paramref name="start"/> to where the residuals are least. <paramref name="steps"/> gives the size of a small step in each unknown; an unknown with step 0 stays.
    /// </summary>
    public static double[] Least(Func<double[], double[]> residuals, double[] start, double[] steps, double[] low, double[] high, int rounds)
    {
        var at = (double[])start.Clone();
        var now = residuals(at);
        var (sum, damping) = (Squares(now), 1e-3);
        int[] free = [.. Enumerable.Range(0, at.Length).Where(i => steps[i] > 0)];
        for (var round = 0; round < rounds; round++)
        {
            var slopes = free.Select(i => Slope(residuals, at, now, i, steps[i], high[i])).ToArray();
            var gained = false;
            for (var tries = 0; tries < 6 && !gained; tries++)
            {
                var next = Stepped(at, now, slopes, free, damping, low, high);
                var then = residuals(next);
                var less = Squares(then);
                gained = less < sum;
                damping = gained ? damping / 5 : damping * 6;
                if (gained)
                {
                    var enough = sum - less < LeastGain * sum;
                    (at, now, sum) = (next, then, less);
                    if (enough)
                    {
                        return at;
                    }
                }
            }

            if (!gained)
            {
                return at;
            }
        }

        return at;
    }

    /// <summary>Sum of the squares.</summary>
    public static double Squares(double[] residuals)
    {
        var sum = 0.0;
        foreach (var r in residuals)
        {
            sum += r * r;
        }

        return sum;
    }

    /// <summary>How the residuals change with one unknown.</summary>
    public static double[] Slope(Func<double[], double[]> residuals, double[] at, double[] now, int unknown, double step, double high)
    {
        var aside = (double[])at.Clone();
        var move = at[unknown] + step > high ? -step : step;
        aside[unknown] += move;
        var then = residuals(aside);
        for (var i = 0; i < then.Length; i++)
        {
            then[i] = (then[i] - now[i]) / move;
        }

        return then;
    }

    private static double[] Stepped(double[] at, double[] now, double[][] slopes, int[] free, double damping, double[] low, double[] high)
    {
        var n = free.Length;
        var equations = new Transform.NormalEquations(n);
        var row = new double[n];
        for (var i = 0; i < now.Length; i++)
        {
            for (var k = 0; k < n; k++)
            {
                row[k] = slopes[k][i];
            }

            equations.Add(row, -now[i]);
        }

        // Marquardt: each unknown is held back in proportion to how much it matters.
        for (var k = 0; k < n; k++)
        {
            Array.Clear(row);
            row[k] = Math.Sqrt(damping * Squares(slopes[k]));
            equations.Add(row, 0);
        }

        var move = equations.Solve();
        var next = (double[])at.Clone();
        for (var k = 0; k < n; k++)
        {
            next[free[k]] = Math.Clamp(at[free[k]] + move[k], low[free[k]], high[free[k]]);
        }

        return next;
    }
}
