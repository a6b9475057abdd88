namespace ShopDiag.Signals.Waveforms.Cranking;

/// <summary>
/// The torque that one cylinder asks of the crank over a working cycle, for a peak gauge pressure of 1: (p - p0) dV/dθ, the pressure from p V^n = constant between intake valve
/// closed and exhaust valve open, with gas escaping in proportion to the gauge pressure. Textbook crank geometry, connecting rod 3.3 times the throw. Angles: share of a working
/// cycle, 0 at top dead centre of compression.
/// </summary>
internal sealed class CompressionShape
{
    /// <summary>Points a working cycle: half a degree of crank.</summary>
    public const int Points = 1440;

    /// <summary>Usual exponent while cranking, with the heat that the walls take.</summary>
    private const double Polytropic = 1.29;

    private const int IntakeCloses = -128 * 2;
    private const int ExhaustOpens = 138 * 2;
    private const double Rod = 3.3;

    /// <summary>Leaks are tabulated down to this share of the sound pressure: beyond it the shape hardly matters.</summary>
    private const double LeastShare = 0.05;

    private const int Levels = 14;

    private readonly double[][] _shapes = new double[Levels][];
    private readonly double[] _shares = new double[Levels];

    /// <summary>The shapes of engines with this compression ratio (as the gas has it, from the intake valve's closing at the lower dead centre on).</summary>
    public CompressionShape(double ratio)
    {
        var sound = 0.0;
        for (var i = 0; i < Levels; i++)
        {
            // Escaping volume a radian and unit of gauge pressure, as a share of the swept volume: the steps are finer where the leak is small.
            var leak = i == 0 ? 0 : 0.002 * Math.Pow(1.55, i);
            (_shapes[i], var peak) = Turn(ratio, leak);
            sound = i == 0 ? peak : sound;
            _shares[i] = peak / sound;
        }
    }

    /// <summary>The shape for a cylinder that keeps this share of the sound pressure.</summary>
    public double[] For(double share)
    {
        share = Math.Clamp(share, Math.Max(LeastShare, _shares[^1]), 1);
        var i = 1;
        while (i < Levels - 1 && _shares[i] > share)
        {
            i++;
        }

        var part = Math.Clamp((_shares[i - 1] - share) / (_shares[i - 1] - _shares[i]), 0, 1);
        var (a, b) = (_shapes[i - 1], _shapes[i]);
        var shape = new double[Points];
        for (var p = 0; p < Points; p++)
        {
            shape[p] = a[p] + (part * (b[p] - a[p]));
        }

        return shape;
    }

    /// <summary>A shape at an angle in working cycles, by straight lines between its points.</summary>
    public static double At(double[] shape, double cycles)
    {
        var at = (cycles - Math.Floor(cycles)) * Points;
        var i = (int)at;
        var part = at - i;
        i = i >= Points ? 0 : i;
        var next = i + 1 == Points ? 0 : i + 1;
        return shape[i] + (part * (shape[next] - shape[i]));
    }

    private static (double[] Shape, double Peak) Turn(double ratio, double leak)
    {
        var shape = new double[Points];
        const double Radians = 2 * Math.PI * 2 / Points;
        var (pressure, peak) = (1.0, 0.0);
        for (var i = IntakeCloses; i < ExhaustOpens; i++)
        {
            var (sin, cos) = Math.SinCos((i + 0.5) * Radians);
            var root = Math.Sqrt((Rod * Rod) - (sin * sin));
            var volume = (1 / (ratio - 1)) + ((1 - cos + Rod - root) / 2);
            var slope = (sin + (sin * cos / root)) / 2;
            pressure *= Math.Exp(-Polytropic * (slope + (leak * (pressure - 1))) / volume * Radians);
            shape[(i + Points) % Points] = -(pressure - 1) * slope;
            peak = Math.Max(peak, pressure - 1);
        }

        for (var p = 0; p < Points; p++)
        {
            shape[p] /= peak;
        }

        return (shape, peak);
    }
}
