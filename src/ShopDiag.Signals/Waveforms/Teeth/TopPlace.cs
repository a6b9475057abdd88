namespace ShopDiag.Signals.Waveforms.Teeth;

/// <summary>Where top dead centre of compression of the first cylinder of the firing order lies on the scale of the tooth angles.</summary>
/// <param name="Degrees">The first such angle.</param>
/// <param name="Known">False where it may as well be one revolution later.</param>
internal sealed record TopPlace(double Degrees, bool Known)
{
    /// <summary>Of the pulses, this many must agree on the stroke.</summary>
    private const double Agreeing = 0.9;

    public static (TopPlace? Place, string? Problem) Find(ToothAngles angles, TeethRequest request)
    {
        var n = request.FiringOrder.Length;
        if (request.Sync is { } sync)
        {
            return BySync(angles, request, sync);
        }

        if (request.Wheel.Missing == 0)
        {
            return (null, "A wheel without a gap does not tell where top dead centre is: take a cam or ignition signal with it.");
        }

        // With an odd number of cylinders the other stroke's top dead centre lies midway between two firings, and there the crank is fast, not slow.
        var top = Wrapped(request.TopAfterGap, 360);
        return n % 2 == 0 ? (new(top, false), null) : (new(Slowness(angles, top, n) > Slowness(angles, top + 360, n) ? top : top + 360, true), null);
    }

    private static (TopPlace? Place, string? Problem) BySync(ToothAngles angles, TeethRequest request, CycleSync sync)
    {
        var n = request.FiringOrder.Length;
        var index = request.FiringOrder.IndexOf(sync.Cylinder);
        double[] at = [.. sync.Times.Select(angles.AngleAt).Where(double.IsFinite).Select(a => a + sync.DegreesBefore - (720.0 * index / n))];
        var cycles = (angles.Degrees[^1] - angles.Degrees[0]) / 720;
        if (index < 0 || at.Length < 0.7 * cycles || at.Length > 1.3 * cycles)
        {
            return (null, index < 0 ? $"Cylinder {sync.Cylinder} of the cam signal is not in the firing order."
                : FormattableString.Invariant($"The cam signal has {at.Length} pulses in {cycles:0} working cycles; it takes one in each."));
        }

        if (request.Wheel.Missing == 0)
        {
            var (sin, cos) = at.Aggregate((Sin: 0.0, Cos: 0.0), (s, a) => (s.Sin + Math.Sin(a * Math.PI / 360), s.Cos + Math.Cos(a * Math.PI / 360)));
            return Math.Sqrt((sin * sin) + (cos * cos)) > Agreeing * at.Length
                ? (new(Wrapped(Math.Atan2(sin, cos) * 360 / Math.PI, 720), true), null)
                : (null, "The cam signal's pulses do not come at the same angle of each cycle.");
        }

        var top = Wrapped(request.TopAfterGap, 360);
        var here = at.Count(a => Math.Abs(Math.IEEERemainder(a - top, 720)) < 180);
        if (Math.Max(here, at.Length - here) < Agreeing * at.Length)
        {
            return (null, "The cam signal's pulses do not come at the same angle of each cycle.");
        }

        return (new(here > at.Length / 2 ? top : top + 360, true), null);
    }

    /// <summary>How much longer the crank takes about these top dead centres than midway between them.</summary>
    private static double Slowness(ToothAngles angles, double top, int n)
    {
        var (sum, interval) = (0.0, 720.0 / n);
        for (var a = top; a < angles.Degrees[^1]; a += interval)
        {
            var slow = angles.TimeAt(a + (interval / 4)) - angles.TimeAt(a - (interval / 4));
            var fast = angles.TimeAt(a + (0.75 * interval)) - angles.TimeAt(a + (interval / 4));
            sum += double.IsFinite(slow - fast) ? slow - fast : 0;
        }

        return sum;
    }

    private static double Wrapped(double degrees, double turn) => degrees - (turn * Math.Floor(degrees / turn));
}
