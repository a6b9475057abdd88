using ShopDiag.Signals.Transform;

namespace ShopDiag.Signals.Waveforms.Cranking;

/// <summary>
/// Fits the compression torque of all cylinders together to the current of a stretch of cranking: each cylinder's shape at its angle, through the starter's lag, times its pressure,
/// over a smooth base. Pressures and base are linear and solved at once; the motion is searched for.
/// </summary>
internal sealed class CompressionFit
{
    private readonly double[] _z;
    private readonly double _hertz;
    private readonly int _cylinders;
    private readonly int _bends;

    /// <summary>For a stretch of the current at an even rate.</summary>
    public CompressionFit(double[] current, double hertz, int cylinders)
    {
        (_hertz, _cylinders) = (hertz, cylinders);
        Mean = current.Average();
        Deviation = Math.Max(1e-12, Math.Sqrt(current.Average(c => (c - Mean) * (c - Mean))));
        _z = [.. current.Select(c => (c - Mean) / Deviation)];
        Highest = Math.Max(1, _z.Max());
        _bends = 4;
    }

    /// <summary>Of the current.</summary>
    public double Mean { get; }

    /// <summary>Of the current.</summary>
    public double Deviation { get; }

    /// <summary>Of the current less its mean, in standard deviations.</summary>
    public double Highest { get; }

    /// <summary>The stretch in standard deviations about its mean.</summary>
    public double[] Current => _z;

    /// <summary>How much of the variance about the smooth base the cylinders explain, 0 to 1.</summary>
    public double Explained(double[] residuals) => Math.Max(0, 1 - (DampedSearch.Squares(residuals) / DampedSearch.Squares(Residuals(new double[_z.Length][]))));

    /// <summary>The columns of the cylinders: what one unit of pressure in each does to the current.</summary>
    public double[][] Columns(CrankMotion motion, double[][] shapes)
    {
        var cycles = motion.Cycles(_z, _hertz);
        var rows = new double[_z.Length][];
        var before = new double[_cylinders];
        var state = new double[_cylinders];
        var keep = Math.Exp(-1 / (_hertz * motion.Lag));
        var mean = (1 - keep) * motion.Lag * _hertz;
        var step = Math.Max(1e-4, cycles[1] - cycles[0]);

        // A cycle before the start lets the lag settle to what it would be.
        for (var i = -(int)Math.Min(2000, 1 / step); i < _z.Length; i++)
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

    /// <summary>What is left after pressures and base were fitted.</summary>
    public double[] Residuals(double[][] rows)
    {
        var unknowns = (rows[0]?.Length ?? 0) + _bends;
        var equations = new NormalEquations(unknowns);
        var row = new double[unknowns];
        for (var i = 0; i < _z.Length; i++)
        {
            Fill(row, rows[i], i);
            equations.Add(row, _z[i]);
        }

        var x = equations.Solve();
        var residuals = new double[_z.Length];
        for (var i = 0; i < _z.Length; i++)
        {
            Fill(row, rows[i], i);
            residuals[i] = _z[i];
            for (var k = 0; k < unknowns; k++)
            {
                residuals[i] -= x[k] * row[k];
            }
        }

        return residuals;
    }

    /// <summary>The sums of each working cycle; <paramref name="cycles"/> says which a sample belongs to.</summary>
    public NormalEquations[] ByCycle(double[][] rows, double[] cycles)
    {
        var first = (int)Math.Floor(cycles[0]);
        var sums = Enumerable.Range(0, (int)Math.Floor(cycles[^1]) - first + 1).Select(_ => new NormalEquations(_cylinders + _bends)).ToArray();
        var row = new double[_cylinders + _bends];
        for (var i = 0; i < _z.Length; i++)
        {
            Fill(row, rows[i], i);
            sums[(int)Math.Floor(cycles[i]) - first].Add(row, _z[i]);
        }

        return sums;
    }

    /// <summary>A row: the cylinders' columns and Legendre's first polynomials, the base.</summary>
    private void Fill(double[] row, double[]? columns, int i)
    {
        var n = columns?.Length ?? 0;
        columns?.CopyTo(row, 0);
        var x = (2.0 * i / (_z.Length - 1)) - 1;
        row[n] = 1;
        row[n + 1] = x;
        for (var k = 2; k < _bends; k++)
        {
            row[n + k] = ((((2 * k) - 1) * x * row[n + k - 1]) - ((k - 1) * row[n + k - 2])) / k;
        }
    }
}
