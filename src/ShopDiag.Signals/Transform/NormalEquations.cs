namespace ShopDiag.Signals.Transform;

/// <summary>Linear least squares for few unknowns and many observations: the sums are gathered row by row and solved by Cholesky's factors.</summary>
internal sealed class NormalEquations(int unknowns)
{
    /// <summary>Share of each diagonal term that is added to it, so that a column of zeros gets the answer zero and not a division by it.</summary>
    private const double Ridge = 1e-9;

    private readonly double[] _normal = new double[unknowns * unknowns];
    private readonly double[] _right = new double[unknowns];

    /// <summary>One observation: <paramref name="row"/> times the unknowns should be <paramref name="value"/>.</summary>
    public void Add(ReadOnlySpan<double> row, double value)
    {
        for (var i = 0; i < row.Length; i++)
        {
            var factor = row[i];
            if (factor == 0)
            {
                continue;
            }

            var line = _normal.AsSpan(i * unknowns, i + 1);
            for (var j = 0; j <= i; j++)
            {
                line[j] += factor * row[j];
            }

            _right[i] += factor * value;
        }
    }

    /// <summary>The observations of these and of <paramref name="others"/>, those <paramref name="weight"/> times; below 0 they are taken out.</summary>
    public NormalEquations With(NormalEquations others, double weight)
    {
        var sum = new NormalEquations(unknowns);
        for (var i = 0; i < _normal.Length; i++)
        {
            sum._normal[i] = _normal[i] + (weight * others._normal[i]);
        }

        for (var i = 0; i < unknowns; i++)
        {
            sum._right[i] = _right[i] + (weight * others._right[i]);
        }

        return sum;
    }

    /// <summary>The unknowns.</summary>
    public double[] Solve()
    {
        var l = Factors();
        var x = new double[unknowns];
        for (var i = 0; i < unknowns; i++)
        {
            var sum = _right[i];
            for (var j = 0; j < i; j++)
            {
                sum -= l[(i * unknowns) + j] * x[j];
            }

            x[i] = sum / l[(i * unknowns) + i];
        }

        for (var i = unknowns - 1; i >= 0; i--)
        {
            for (var j = i + 1; j < unknowns; j++)
            {
                x[i] -= l[(j * unknowns) + i] * x[j];
            }

            x[i] /= l[(i * unknowns) + i];
        }

        return x;
    }

    private double[] Factors()
    {
        var l = new double[unknowns * unknowns];
        for (var i = 0; i < unknowns; i++)
        {
            var held = (Ridge * _normal[(i * unknowns) + i]) + double.Epsilon;
            for (var j = 0; j <= i; j++)
            {
                var sum = _normal[(i * unknowns) + j] + (i == j ? held : 0);
                for (var k = 0; k < j; k++)
                {
                    sum -= l[(i * unknowns) + k] * l[(j * unknowns) + k];
                }

                // Columns that are all but the same: rounding may leave less than nothing.
                l[(i * unknowns) + j] = i == j ? Math.Sqrt(Math.Max(sum, held)) : sum / l[(j * unknowns) + j];
            }
        }

        return l;
    }
}
