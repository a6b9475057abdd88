namespace ShopDiag.Signals.Waveforms.Cranking;

/// <summary>
/// The current that a model of starter and engine draws: the torque of every cylinder at its angle turns a crank that the starter drives through a one-way clutch. In the fitted
/// current's own standard deviations: the starter's speed is Rate (1 - g z); locked together dv/dt = K (z - load), K = Rate g / Lag; the crank runs ahead where the clutch would have
/// to pull it back, and then each turns by itself, the starter with its share of the inertia and down to the current that it takes alone.
/// The angle is not left to the model, which would lose its way: between knots it follows the speed that the current shows and the lead of the crank over the starter, as the last
/// round of the search had it; at the knots it is unknown.
/// </summary>
internal sealed class DrivenCrank
{
    /// <summary>Places among the unknowns: g; logarithms of lag and compression ratio; the starter's share of the inertia; the current it takes alone; the base.</summary>
    public const int Swing = 0, Lag = 1, Ratio = 2, Inertia = 3, Alone = 4, Base = 5;

    private const int Pressures = Base + CompressionFit.Bends;

    /// <summary>Steps of the integration from sample to sample.</summary>
    private const int Parts = 2;

    private readonly double[] _z;
    private readonly double _hertz;
    private readonly int _cylinders;
    private readonly int[] _knots;
    private readonly double[] _sums;
    private CompressionShape _shape = new(9);

    /// <summary>For a current in standard deviations, about so many working cycles long.</summary>
    public DrivenCrank(double[] z, double hertz, int cylinders, double cycles)
    {
        (_z, _hertz, _cylinders, Lead) = (z, hertz, cylinders, new double[z.Length]);
        var segments = Math.Max(2, (int)Math.Round(cycles));
        _knots = [.. Enumerable.Range(0, segments + 1).Select(k => (int)((z.Length - 1L) * k / segments))];
        _sums = new double[z.Length];
        for (var i = 1; i < z.Length; i++)
        {
            _sums[i] = _sums[i - 1] + ((z[i] + z[i - 1]) / 2);
        }
    }

    /// <summary>Samples at which the angle is an unknown.</summary>
    public IReadOnlyList<int> Knots => _knots;

    /// <summary>How many unknowns there are.</summary>
    public int Unknowns => Pressures + (2 * _cylinders) + _knots.Length;

    /// <summary>Place of a cylinder's pressure among the unknowns.</summary>
    public static int Pressure(int cylinder) => Pressures + cylinder;

    /// <summary>Place of a cylinder's leak: how much of what it lacks is lost by a leak, 0 to 1.</summary>
    public int Leak(int cylinder) => Pressures + _cylinders + cylinder;

    /// <summary>Place of the angle at a knot, in working cycles.</summary>
    public int Knot(int knot) => Pressures + (2 * _cylinders) + knot;

    /// <summary>The angle at each sample, in working cycles.</summary>
    public double[] Cycles(double[] u)
    {
        var cycles = new double[_z.Length];
        var rate = Rate(u);
        var along = 0.0;
        for (var i = 1; i < cycles.Length; i++)
        {
            along += (Lead[i] + Lead[i - 1]) / 2 / rate;
            cycles[i] = i + along - (u[Swing] * _sums[i]);
        }

        for (var k = 1; k < _knots.Length; k++)
        {
            var (from, to) = (_knots[k - 1], _knots[k]);
            var (a, b) = (cycles[from], cycles[to]);
            for (var i = from; i <= to; i++)
            {
                if (i > from || k == 1)
                {
                    // A model that would stand still between two knots must not divide by nothing.
                    cycles[i] = u[Knot(k - 1)] + ((u[Knot(k)] - u[Knot(k - 1)]) * (cycles[i] - a) / Math.Max(1, b - a));
                }
            }

            if (k + 1 < _knots.Length)
            {
                // The next segment measures from here in the units before.
                cycles[to] = b;
            }
        }

        for (var k = 1; k + 1 < _knots.Length; k++)
        {
            cycles[_knots[k]] = u[Knot(k)];
        }

        return cycles;
    }

    /// <summary>How much faster than the starter the crank turns at each sample, cycles a second, as the angles take it.</summary>
    public double[] Lead { get; set; }

    /// <summary>The current less the model's at each sample.</summary>
    public double[] Residuals(double[] u, double level) => Run(u, level).Residuals;

    /// <summary>Moves the lead that the angles take by a share of the way to the one that the model gives.</summary>
    public void Learn(double[] u, double level, double share) =>
        Lead = [.. Lead.Zip(Run(u, level).Lead, (was, now) => was + (share * (now - was)))];

    private (double[] Residuals, double[] Lead) Run(double[] u, double level)
    {
        var (cycles, shapes, rate) = (Cycles(u), Shapes(u, level), Rate(u));
        var (residuals, lead) = (new double[_z.Length], new double[_z.Length]);
        var h = 1 / _hertz / Parts;
        var step = new Step(rate * u[Swing] / Math.Exp(u[Lag]) * h, h / Math.Exp(u[Lag]), u[Inertia], u[Alone], rate, u[Swing]);
        var crank = rate * Math.Max(0.02, 1 - (u[Swing] * _z[0]));
        var starter = crank;
        for (var i = 0; i < residuals.Length; i++)
        {
            var x = (2.0 * i / (_z.Length - 1)) - 1;
            residuals[i] = _z[i] - ((1 - (starter / rate)) / u[Swing]);
            lead[i] = crank - starter;
            var still = u[Base] + (u[Base + 1] * x) + (u[Base + 2] * ((1.5 * x * x) - 0.5)) + (u[Base + 3] * ((2.5 * x * x * x) - (1.5 * x)));
            for (var k = 0; k < Parts && i + 1 < residuals.Length; k++)
            {
                var load = still;
                var angle = cycles[i] + ((cycles[i + 1] - cycles[i]) * (k + 0.5) / Parts);
                for (var c = 0; c < _cylinders; c++)
                {
                    load += u[Pressure(c)] * CompressionShape.At(shapes[c], angle - ((double)c / _cylinders));
                }

                (starter, crank) = step.Moved(load, starter, crank);
            }
        }

        return (residuals, lead);
    }

    private double Rate(double[] u) => (u[Knot(_knots.Length - 1)] - u[Knot(0)]) * _hertz / (_z.Length - 1);

    private double[][] Shapes(double[] u, double level)
    {
        var ratio = Math.Exp(u[Ratio]);
        _shape = _shape.Ratio == ratio ? _shape : new(ratio);
        return [.. Enumerable.Range(0, _cylinders).Select(c => _shape.For(u[Pressure(c)] / level, u[Leak(c)]))];
    }

    /// <summary>One step of the integration; the current's own braking is taken at the step's end, so that short lags do not shake.</summary>
    private readonly record struct Step(double Gain, double Brake, double Inertia, double Alone, double Rate, double Swing)
    {
        public (double Starter, double Crank) Moved(double load, double starter, double crank)
        {
            var now = (1 - (starter / Rate)) / Swing;
            if (starter >= crank && now - Alone - (Inertia * (now - load)) >= 0)
            {
                var locked = Math.Max(0.01 * Rate, (starter + (Gain * ((1 / Swing) - load))) / (1 + Brake));
                return (locked, locked);
            }

            var ahead = Math.Max(0.01 * Rate, crank + (Gain * (Alone - load) / (1 - Inertia)));
            var turning = (starter + (Gain / Inertia * ((1 / Swing) - Alone))) / (1 + (Brake / Inertia));

            // The clutch takes hold: both go on at the speed that keeps their momentum.
            var both = (Inertia * turning) + ((1 - Inertia) * ahead);
            return turning >= ahead ? (both, both) : (turning, ahead);
        }
    }
}
