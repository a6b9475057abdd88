namespace ShopDiag.Signals.Measured.Engines;

/// <summary>Top dead centre of a power stroke: which cylinder (in firing order), when, its work as a share of the usual, the speed in radian a second.</summary>
internal sealed record Firing(int Cylinder, double Seconds, double Work, double Speed);

/// <summary>The true motion of a crank.</summary>
internal sealed class CrankRun(double[] angles, double step, List<Firing> firings)
{
    public IReadOnlyList<Firing> Firings => firings;

    public double Seconds => (angles.Length - 1) * step;

    /// <summary>The true speed at a time, over one working cycle, rpm.</summary>
    public double Rpm(double seconds)
    {
        var half = 0.08;
        for (var i = 0; i < 3; i++)
        {
            half = Math.Clamp(2 * Math.PI / Math.Max(5, Speed(seconds, half)), 0.01, 0.4);
        }

        return Speed(seconds, half) * 30 / Math.PI;
    }

    /// <summary>Mean true speed between two times, rpm.</summary>
    public double MeanRpm(double from, double to) => (Angle(to) - Angle(from)) / (to - from) * 30 / Math.PI;

    /// <summary>When the crank had turned so far, seconds.</summary>
    public double TimeAt(double radians)
    {
        var i = Array.BinarySearch(angles, radians);
        i = Math.Clamp(i >= 0 ? i : ~i - 1, 0, angles.Length - 2);
        return (i + ((radians - angles[i]) / (angles[i + 1] - angles[i]))) * step;
    }

    private double Speed(double seconds, double half)
    {
        var (from, to) = (Math.Max(0, seconds - half), Math.Min(Seconds, seconds + half));
        return (Angle(to) - Angle(from)) / (to - from);
    }

    /// <summary>Radians turned since the start.</summary>
    public double Angle(double seconds)
    {
        var at = Math.Clamp(seconds / step, 0, angles.Length - 1.001);
        var i = (int)at;
        return angles[i] + ((at - i) * (angles[i + 1] - angles[i]));
    }
}
