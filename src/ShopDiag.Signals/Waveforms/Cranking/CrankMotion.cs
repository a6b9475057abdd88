namespace ShopDiag.Signals.Waveforms.Cranking;

/// <summary>
/// What is searched for in a cranking. The speed of a starter is w = (V - R I) / k, so the crank's speed follows from the current itself: cycles a second
/// = <see cref="Rate"/> (1 + d1 x + d2 x² - g z), x from -1 to 1 along the stretch for what the battery loses, z the current less its mean in standard deviations.
/// </summary>
/// <param name="Rate">Working cycles a second at the mean current.</param>
/// <param name="Slope">d1.</param>
/// <param name="Bend">d2.</param>
/// <param name="Swing">g, 0 to below 1 / the highest z: the crank never turns backwards.</param>
/// <param name="Phase">Working cycles at the middle of the stretch.</param>
/// <param name="Lag">J R / (eta k²): the current follows the torque as a low-pass of this time constant, seconds.</param>
/// <param name="Ratio">Compression ratio that gives the shape of the torque.</param>
internal readonly record struct CrankMotion(double Rate, double Slope, double Bend, double Swing, double Phase, double Lag, double Ratio)
{
    /// <summary>Bounds of <see cref="Lag"/>, seconds.</summary>
    public const double ShortestLag = 0.003;

    /// <summary>Bounds of <see cref="Lag"/>, seconds.</summary>
    public const double LongestLag = 0.6;

    /// <summary>Bounds of <see cref="Ratio"/>.</summary>
    public const double LeastRatio = 4;

    /// <summary>Bounds of <see cref="Ratio"/>.</summary>
    public const double MostRatio = 22;

    /// <summary>As unknowns of about the same size; lag and ratio by their logarithm.</summary>
    public double[] Unknowns => [Math.Log(Rate), Slope, Bend, Swing, Phase, Math.Log(Lag), Math.Log(Ratio)];

    /// <summary>From <see cref="Unknowns"/>.</summary>
    public static CrankMotion Of(double[] u) => new(Math.Exp(u[0]), u[1], u[2], u[3], u[4], Math.Exp(u[5]), Math.Exp(u[6]));

    /// <summary>Working cycles at each sample.</summary>
    public double[] Cycles(double[] z, double hertz)
    {
        var n = z.Length;
        var cycles = new double[n];
        double before = 0;
        for (var i = 0; i < n; i++)
        {
            var x = (2.0 * i / (n - 1)) - 1;
            var speed = Rate * Math.Max(0.02, 1 + (Slope * x) + (Bend * x * x) - (Swing * z[i]));
            cycles[i] = i == 0 ? 0 : cycles[i - 1] + ((speed + before) / 2 / hertz);
            before = speed;
        }

        var shift = Phase - cycles[n / 2];
        for (var i = 0; i < n; i++)
        {
            cycles[i] += shift;
        }

        return cycles;
    }
}
