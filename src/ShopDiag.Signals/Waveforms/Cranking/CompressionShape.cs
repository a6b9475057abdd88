namespace ShopDiag.Signals.Waveforms.Cranking;

/// <summary>
/// The torque that one cylinder asks of the crank over a working cycle, for a peak gauge pressure of 1: (p - p0) dV/dθ, the pressure from p V^n = constant between intake valve
/// closed and exhaust valve open. A weak cylinder either leaks (gas escapes in proportion to the gauge pressure: less of it comes back after top dead centre) or begins to compress
/// late. Textbook crank geometry, connecting rod 3.3 times the throw. Angles: share of a working cycle, 0 at top dead centre of compression.
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

    /// <summary>Below this share of the sound pressure the shape hardly matters.</summary>
    private const double LeastShare = 0.05;

    private const int Levels = 14;

    private const double Radians = 4 * Math.PI / Points;

    private static readonly (double Slope, double Volume)[] Piston = [.. Enumerable.Range(IntakeCloses, ExhaustOpens - IntakeCloses).Select(i => At((i + 0.5) * Radians))];

    private readonly double _peak;
    private readonly Lazy<(double Share, double[] Shape)[]> _leaking;
    private readonly Lazy<(double Share, double[] Shape)[]> _late;

    /// <summary>The shapes of engines with this compression ratio (as the gas has it, from the intake valve's closing at the lower dead centre on).</summary>
    public CompressionShape(double ratio)
    {
        Ratio = ratio;
        (Sound, _peak) = Turn(0, IntakeCloses);

        // Escaping volume a radian and unit of gauge pressure, as a share of the swept volume: the steps are finer where the leak is small.
        _leaking = new(() => Table(i => Turn(0.002 * Math.Pow(1.55, i), IntakeCloses)));
        _late = new(() => Table(i => Turn(0, IntakeCloses * (Levels - i) / Levels)));
    }

    /// <summary>The shape of a sound cylinder.</summary>
    public double[] Sound { get; }

    /// <summary>The compression ratio.</summary>
    public double Ratio { get; }

    /// <summary>The shape for a cylinder that keeps this share of the sound pressure, lost by <paramref name="leak"/> of it (0 to 1) through a leak and else by late closing.</summary>
    public double[] For(double share, double leak)
    {
        share = Math.Clamp(share, LeastShare, 1);
        var ((a, b, p), (c, d, q)) = (Between(_leaking.Value, share), Between(_late.Value, share));
        var shape = new double[Points];
        for (var i = 0; i < Points; i++)
        {
            shape[i] = (leak * (a[i] + (p * (b[i] - a[i])))) + ((1 - leak) * (c[i] + (q * (d[i] - c[i]))));
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

    private static (double[] A, double[] B, double Part) Between((double Share, double[] Shape)[] table, double share)
    {
        var i = 1;
        while (i < Levels - 1 && table[i].Share > share)
        {
            i++;
        }

        return (table[i - 1].Shape, table[i].Shape, Math.Clamp((table[i - 1].Share - share) / (table[i - 1].Share - table[i].Share), 0, 1));
    }

    private (double Share, double[] Shape)[] Table(Func<int, (double[] Shape, double Peak)> turn) =>
        [(1, Sound), .. Enumerable.Range(1, Levels - 1).Select(turn).Select(t => (t.Peak / _peak, t.Shape))];

    private (double[] Shape, double Peak) Turn(double leak, int closes)
    {
        var shape = new double[Points];
        var (pressure, peak) = (1.0, 1e-9);
        for (var i = closes; i < ExhaustOpens; i++)
        {
            var (slope, swept) = Piston[i - IntakeCloses];
            pressure *= Math.Exp(-Polytropic * (slope + (leak * (pressure - 1))) / (swept + (1 / (Ratio - 1))) * Radians);
            shape[(i + Points) % Points] = -(pressure - 1) * slope;
            peak = Math.Max(peak, pressure - 1);
        }

        for (var p = 0; p < Points; p++)
        {
            shape[p] /= peak;
        }

        return (shape, peak);
    }

    /// <summary>Change of the volume a radian, and the volume above top dead centre, as shares of the swept volume.</summary>
    private static (double Slope, double Volume) At(double radians)
    {
        var (sin, cos) = Math.SinCos(radians);
        var root = Math.Sqrt((Rod * Rod) - (sin * sin));
        return ((sin + (sin * cos / root)) / 2, (1 - cos + Rod - root) / 2);
    }
}
