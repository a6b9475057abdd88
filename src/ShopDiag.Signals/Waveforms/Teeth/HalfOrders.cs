using ShopDiag.Signals.Transform;

namespace ShopDiag.Signals.Waveforms.Teeth;

/// <summary>
/// The mean work of each cylinder of an engine with an odd number of them, free of the teeth's errors: these repeat each revolution, so half the difference between a cycle's two revolutions
/// holds none of them, and the firings of an odd number of cylinders are wholly in it.
/// </summary>
internal static class HalfOrders
{
    /// <summary>Degrees after top dead centre over which a firing's work is taken to arrive: what the index of a firing looks like in the difference hardly depends on it.</summary>
    private const double Burn = 90;

    /// <summary>Levels by place in the firing order, on the scale of the index; their mean is 0.</summary>
    public static double[] Levels(WorkCycles cycles)
    {
        var n = cycles.Cylinders;
        var interval = 720.0 / n;
        double Seen(int c) => Middle.Of([.. cycles.Starts.Select(s => Difference(cycles.Angles, s + (c * interval), interval)).Where(double.IsFinite)]);
        double[] seen = [.. Enumerable.Range(0, n).Select(Seen)];
        var equations = new NormalEquations(n);
        for (var c = 0; c < n; c++)
        {
            double[] row = [.. Enumerable.Range(0, n).Select(j => Response((c - j) * interval, interval))];
            equations.Add(row, seen[c]);
        }

        // A level common to all is not in the difference; it is set to 0.
        equations.Add([.. Enumerable.Repeat(1.0, n)], 0);
        return equations.Solve();
    }

    /// <summary>Half the difference of the index between here and one revolution on.</summary>
    private static double Difference(ToothAngles angles, double degrees, double interval) =>
        (Rise(angles, degrees, interval) - Rise(angles, degrees + 360, interval)) / 2;

    private static double Rise(ToothAngles angles, double degrees, double interval) =>
        WorkCycles.Square(angles, degrees + interval, interval) - WorkCycles.Square(angles, degrees, interval);

    /// <summary>The same for a firing of unit work at 0 and a steady load, at an angle after it.</summary>
    private static double Response(double degrees, double interval) =>
        (Energy(degrees + interval, interval) - Energy(degrees, interval) - Energy(degrees + 360 + interval, interval) + Energy(degrees + 360, interval)) / 2;

    /// <summary>Energy about an angle, mean over the window: rising while the firing works, falling all the time with the load.</summary>
    private static double Energy(double degrees, double interval)
    {
        const int Points = 24;
        var sum = 0.0;
        for (var i = 0; i < Points; i++)
        {
            var at = degrees + ((((i + 0.5) / Points) - 0.5) * interval / 2);
            var turn = Math.Floor(at / 720);
            sum += (turn + Math.Min(1, (at - (720 * turn)) / Burn) - (at / 720)) / Points;
        }

        return sum;
    }
}
