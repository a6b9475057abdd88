using ShopDiag.Diagnosis.Statistics;
using ShopDiag.Signals.Transform;

namespace ShopDiag.Signals.Waveforms.Cranking;

/// <summary>Fits the model with the one-way clutch, from where the linear fit came to.</summary>
internal sealed class ClutchSearch(CompressionFit fit, double hertz, int cylinders)
{
    /// <summary>Rounds for each start, and for the best of them.</summary>
    private const int StartRounds = 4, Rounds = 8, StepsARound = 5;

    /// <summary>How much of the way the lead goes to what the model says: all of it at once and the search swings.</summary>
    private const double LearnShare = 0.6;

    /// <summary>How far the speed swings (share of what would stop the crank) and the starter's share of the inertia, to begin with.</summary>
    private static readonly (double Swing, double Inertia)[] Starts = [(0.15, 0.12), (0.15, 0.35), (0.5, 0.12), (0.5, 0.35)];

    /// <summary>What is left out by the jackknife leaves a trace, so that the angle at a cycle's ends stays determined.</summary>
    private const double LeftOut = 0.98;

    /// <summary>The best of all starts; patiently, each is followed to the end before it is judged.</summary>
    public FittedCranking From(CrankMotion motion, double[] factors, bool patient)
    {
        var along = motion.Cycles(fit.Current, hertz);
        var (crank, u, _) = Starts.Select(start =>
        {
            var tried = new DrivenCrank(fit.Current, hertz, cylinders, along[^1] - along[0]);
            var (found, sum) = Followed(tried, Begin(tried, motion, factors, along, start), patient ? Rounds : StartRounds);
            return (tried, found, sum);
        }).MinBy(t => t.sum);
        (u, _) = Followed(crank, u, Rounds);
        var level = Level(u);
        var residuals = crank.Residuals(u, level);
        double[] speeds = [.. Enumerable.Range(1, crank.Knots.Count - 1).Select(k => u[crank.Knot(k)] - u[crank.Knot(k - 1)])];
        return new()
        {
            Lag = Math.Exp(u[DrivenCrank.Lag]),
            Share = Shares(u),
            Error = Errors(crank, u, residuals),
            R2 = fit.Explained(residuals),
            Cycles = crank.Cycles(u),
            Fastest = speeds.Max() / Robust.Median(speeds),
        };
    }

    private double[] Shares(double[] u) => [.. u.AsSpan(DrivenCrank.Pressure(0), cylinders).ToArray().Select(p => p / Level(u))];

    private double Level(double[] u) => Math.Max(1e-6, Robust.SoundLevel(u.AsSpan(DrivenCrank.Pressure(0), cylinders).ToArray()));

    /// <summary>Walks by turns: the unknowns for a lead of the crank over the starter, then the lead for the unknowns. Keeps the best of all.</summary>
    private (double[] Unknowns, double Sum) Followed(DrivenCrank crank, double[] start, int rounds)
    {
        var (low, high) = Bounds(crank, start);
        var steps = Steps(crank);
        var (u, best, least, lead) = (start, start, double.MaxValue, crank.Lead);
        for (var round = 0; round < rounds; round++)
        {
            var level = Level(u);
            u = DampedSearch.Least(v => crank.Residuals(v, level), u, steps, low, high, StepsARound);
            var sum = DampedSearch.Squares(crank.Residuals(u, Level(u)));
            if (sum < least)
            {
                (best, least, lead) = (u, sum, crank.Lead);
            }

            crank.Learn(u, Level(u), LearnShare);
        }

        crank.Lead = lead;
        return (best, least);
    }

    /// <summary>Tukey's jackknife: the shares with one working cycle left out after the other, by one step of Newton's each.</summary>
    private double[] Errors(DrivenCrank crank, double[] u, double[] residuals)
    {
        var level = Level(u);
        var steps = Steps(crank);
        var slopes = steps.Select((step, i) => DampedSearch.Slope(v => crank.Residuals(v, level), u, residuals, i, step, double.MaxValue)).ToArray();
        var parts = Enumerable.Range(1, crank.Knots.Count - 1).Select(k =>
        {
            var part = new NormalEquations(u.Length);
            var row = new double[u.Length];
            for (var i = crank.Knots[k - 1]; i < crank.Knots[k]; i++)
            {
                for (var j = 0; j < row.Length; j++)
                {
                    row[j] = slopes[j][i];
                }

                part.Add(row, -residuals[i]);
            }

            return part;
        }).ToArray();
        var whole = parts.Aggregate((a, b) => a.With(b, 1));
        var without = parts.Select(p => Shares([.. u.Zip(whole.With(p, -LeftOut).Solve(), (a, b) => a + b)])).ToArray();
        return [.. Enumerable.Range(0, cylinders).Select(c =>
        {
            var mean = without.Average(w => w[c]);
            return Math.Sqrt((parts.Length - 1.0) / parts.Length * without.Sum(w => (w[c] - mean) * (w[c] - mean)));
        })];
    }

    private double[] Begin(DrivenCrank crank, CrankMotion motion, double[] factors, double[] along, (double Swing, double Inertia) start)
    {
        var u = new double[crank.Unknowns];
        (u[DrivenCrank.Swing], u[DrivenCrank.Inertia]) = (start.Swing / fit.Highest, start.Inertia);
        (u[DrivenCrank.Lag], u[DrivenCrank.Ratio]) = (Math.Log(motion.Lag), Math.Log(motion.Ratio));
        u[DrivenCrank.Alone] = fit.Current.Order().ElementAt(fit.Current.Length / 50);
        factors.AsSpan(cylinders, CompressionFit.Bends).CopyTo(u.AsSpan(DrivenCrank.Base));
        for (var c = 0; c < cylinders; c++)
        {
            (u[DrivenCrank.Pressure(c)], u[crank.Leak(c)]) = (Math.Max(0, factors[c]), 0.5);
        }

        for (var k = 0; k < crank.Knots.Count; k++)
        {
            u[crank.Knot(k)] = along[crank.Knots[k]];
        }

        return u;
    }

    private (double[] Low, double[] High) Bounds(DrivenCrank crank, double[] u)
    {
        var (low, high) = (new double[u.Length], new double[u.Length]);
        void Set(int at, double lowest, double highest) => (low[at], high[at]) = (lowest, highest);
        Set(DrivenCrank.Swing, 0.05 / fit.Highest, 0.95 / fit.Highest);
        Set(DrivenCrank.Lag, Math.Log(CrankMotion.ShortestLag), Math.Log(CrankMotion.LongestLag));
        Set(DrivenCrank.Ratio, Math.Log(CrankMotion.LeastRatio), Math.Log(CrankMotion.MostRatio));
        Set(DrivenCrank.Inertia, 0.05, 0.7);
        Set(DrivenCrank.Alone, u[DrivenCrank.Alone] - 1.5, u[DrivenCrank.Alone] + 1);
        for (var k = 0; k < CompressionFit.Bends; k++)
        {
            Set(DrivenCrank.Base + k, -50, 50);
        }

        for (var c = 0; c < cylinders; c++)
        {
            Set(DrivenCrank.Pressure(c), 0, 100);
            Set(crank.Leak(c), 0, 1);
        }

        for (var k = 0; k < crank.Knots.Count; k++)
        {
            Set(crank.Knot(k), u[crank.Knot(k)] - 0.3, u[crank.Knot(k)] + 0.3);
        }

        return (low, high);
    }

    /// <summary>Small steps for the slopes; not too small, since the clutch takes hold at whole steps of the integration.</summary>
    private double[] Steps(DrivenCrank crank)
    {
        var steps = Enumerable.Repeat(0.02, crank.Unknowns).ToArray();
        (steps[DrivenCrank.Swing], steps[DrivenCrank.Lag], steps[DrivenCrank.Ratio], steps[DrivenCrank.Alone]) = (4e-3, 0.03, 0.03, 0.03);
        for (var c = 0; c < cylinders; c++)
        {
            steps[crank.Leak(c)] = 0.1;
        }

        for (var k = 0; k < crank.Knots.Count; k++)
        {
            steps[crank.Knot(k)] = 1e-3;
        }

        return steps;
    }
}
