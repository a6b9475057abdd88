namespace ShopDiag.Signals.Transform;

/// <summary>A second-order filter that runs along a stream (transposed direct form II).</summary>
internal sealed class Biquad
{
    private readonly double _b0;
    private readonly double _b1;
    private readonly double _b2;
    private readonly double _a1;
    private readonly double _a2;
    private double _s1;
    private double _s2;

    private Biquad(double b0, double b1, double b2, double a0, double a1, double a2) =>
        (_b0, _b1, _b2, _a1, _a2) = (b0 / a0, b1 / a0, b2 / a0, a1 / a0, a2 / a0);

    /// <summary>
    /// High-pass with its corner at <paramref name="corner"/> of the sample rate (0 to 0.5) and quality <paramref name="q"/> (0.7071: Butterworth), by the bilinear transform.
    /// </summary>
    public static Biquad HighPass(double corner, double q)
    {
        var (sin, cos) = Math.SinCos(2 * Math.PI * corner);
        var alpha = sin / (2 * q);
        return new((1 + cos) / 2, -(1 + cos), (1 + cos) / 2, 1 + alpha, -2 * cos, 1 - alpha);
    }

    /// <summary>The next sample.</summary>
    public float Next(float x)
    {
        var y = (_b0 * x) + _s1;
        _s1 = (_b1 * x) - (_a1 * y) + _s2;
        _s2 = (_b2 * x) - (_a2 * y);

        // Decaying states must not end in denormal numbers, which some processors add a hundred times slower.
        _s1 = Math.Abs(_s1) < 1e-30 ? 0 : _s1;
        _s2 = Math.Abs(_s2) < 1e-30 ? 0 : _s2;
        return (float)y;
    }
}
