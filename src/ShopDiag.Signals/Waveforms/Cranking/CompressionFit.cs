using ShopDiag.Signals.Transform;

namespace ShopDiag.Signals.Waveforms.Cranking;

/// <summary>
/// Fits the compression torque of all cylinders together to the current of a stretch of cranking: each cylinder's shape at its angle, through the starter's lag, times its pressure,
/// over a smooth base. Pressures and base are linear and solved at once; the motion is searched for.
/// </summary>
internal sealed class CompressionFit
{
    /// <summary>Terms of the smooth base, for run-up and droop.</summary>
    public const int Bends = 4;

    private readonly double _hertz;
    private readonly int _cylinders;
    private readonly double _aboutBase;

    /// <summary>For a stretch of the current at an even rate.</summary>
    public CompressionFit(double[] current, double hertz, int cylinders)
    {
        (_hertz, _cylinders) = (hertz, cylinders);
        var mean = current.Average();
        var deviation = Math.Max(1e-12, Math.Sqrt(current.Average(c => (c - mean) * (c - mean))));
        Current = [.. current.Select(c => (c - mean) / deviation)];
        Highest = Math.Max(1, Current.Max());
        _aboutBase = DampedSearch.Squares(Solved(new double[Current.Length][]).Residuals);
    }

    /// <summary>The stretch in standard deviations about its mean.</summary>
    public double[] Current { get; }

    /// <summary>The highest of it.</summary>
    public double Highest { get; }

    /// <summary>How much of the variance about the smooth base is explained, 0 to 1.</summary>
    public double Explained(double[] residuals) => Math.Max(0, 1 - (DampedSearch.Squares(residuals) / _aboutBase));

    /// <summary>The columns of the cylinders: what one unit of pressure in each does to the current.</summary>
    public double[][] Columns(CrankMotion motion, double[][] shapes)
    {
        var cycles = motion.Cycles(Current, _hertz);
        var rows = new double[Current.Length][];
        var before = new double[_cylinders];
        var state = new double[_cylinders];
        var keep = Math.Exp(-1 / (_hertz * motion.Lag));
        var mean = (1 - keep) * motion.Lag * _hertz;
        var step = Math.Max(1e-4, cycles[1] - cycles[0]);

        // A cycle before the start lets the lag settle to what it would be.
        for (var i = -(int)Math.Min(2000, 1 / step); i < rows.Length; i++)
        {
            var at = i < 0 ? cycles[0] + (i * step) : cycles[i];
            var row = new double[_cylinders];
            for (var c = 0; c < _cylinders; c++)
            {
                var now = CompressionShape.At(shapes[c], at - ((double)c / _cylinders));
                state[c] = (keep * state[c]) + ((mean - keep) * before[c]) + ((1 - mean) * now);
                (before[c], row[c]) = (now, state[c]);
            }

            if (i >= 0)
            {
                rows[i] = row;
            }
        }

        return rows;
    }

    /// <summary>Factors of the columns and the base, and what is left.</summary>
    public (double[] Factors, double[] Residuals) Solved(double[][] rows)
    {
        var unknowns = (rows[0]?.Length ?? 0) + Bends;
        var equations = new NormalEquations(unknowns);
        var row = new double[unknowns];
        for (var i = 0; i < rows.Length; i++)
        {
            Fill(row, rows[i], i);
            equations.Add(row, Current[i]);
        }

        var factors = equations.Solve();
        var residuals = new double[rows.Length];
        for (var i = 0; i < rows.Length; i++)
        {
            Fill(row, rows[i], i);
            residuals[i] = Current[i];
            for (var k = 0; k < unknowns; k++)
            {
                residuals[i] -= factors[k] * row[k];
            }
        }

        return (factors, residuals);
    }

    /// <summary>A row: the cylinders' columns and Legendre's first polynomials, the base.</summary>
    private void Fill(double[] row, double[]? columns, int i)
    {
        var n = columns?.Length ?? 0;
        columns?.CopyTo(row, 0);
        var x = (2.0 * i / (Current.Length - 1)) - 1;
        (row[n], row[n + 1]) = (1, x);
        for (var k = 2; k < Bends; k++)
        {
            row[n + k] = ((((2 * k) - 1) * x * row[n + k - 1]) - ((k - 1) * row[n + k - 2])) / k;
        }
    }
}
