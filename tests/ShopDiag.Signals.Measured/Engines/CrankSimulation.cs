namespace ShopDiag.Signals.Measured.Engines;

/// <summary>
/// The speed of a crank from torque: J dw/dt = gas work of each cylinder over its stroke + compression and expansion of the trapped gas + reciprocating inertia - friction.
/// Per cylinder 0.4 l. Mean indicated pressure at idle 1.2 bar, so 48 J a cycle. The charge of a cycle follows the air that the throttle lets in (choked: mass a second
/// constant, so mass a cycle goes as 1/speed) through the manifold with a lag of 0.35 s at idle. Friction 80 % constant and 20 % proportional to speed. Inertia 0.08 + 0.02 N kg m².
/// The idle control moves the air (proportional and integral) and the spark (at once, within 12 %). Values from memory and of the usual size; no particular engine.
/// </summary>
internal sealed class CrankSimulation
{
    public const double StepSeconds = 1.0 / 4000;
    private const double WarmUpSeconds = 12;
    private const double WorkJoules = 48;
    private const double CompressionNm = 35;
    private const double ReciprocatingKg = 0.45;
    private const double CrankRadius = 0.043;
    private const double Cycle = 4 * Math.PI;
    private const int TableSize = 1440;
    private static readonly double[] GasTorque = GasShape();
    private static readonly double[] CompressionTorque = CompressionShape();

    private readonly EnginePlan _plan;
    private readonly Random _random;
    private readonly double _idle;
    private readonly double _inertia;
    private readonly double[] _work;
    private readonly int[] _fired;
    private double _angle;
    private double _speed;
    private double _charge = 1;
    private double _integral;
    private double _load;
    private double _slow;

    private CrankSimulation(EnginePlan plan, int seed)
    {
        (_plan, _random) = (plan, new(seed));
        _idle = plan.IdleRpm * Math.PI / 30;
        _speed = _idle;
        _slow = _idle;
        _inertia = 0.08 + (0.02 * plan.Cylinders);
        _work = [.. plan.Strength];
        _fired = [.. Enumerable.Repeat(int.MinValue, plan.Cylinders)];
    }

    /// <summary>Runs the engine warm, then for the plan's time.</summary>
    public static CrankRun Run(EnginePlan plan, int seed)
    {
        var simulation = new CrankSimulation(plan, seed);
        for (var t = -WarmUpSeconds; t < 0; t += StepSeconds)
        {
            simulation.Step(t, null);
        }

        var start = simulation._angle;
        var steps = (int)(plan.Seconds / StepSeconds) + 1;
        var angles = new double[steps];
        var firings = new List<Firing>();
        for (var i = 0; i < steps; i++)
        {
            angles[i] = simulation._angle - start;
            simulation.Step(i * StepSeconds, firings);
        }

        return new(angles, StepSeconds, firings);
    }

    private void Step(double time, List<Firing>? firings)
    {
        var n = _plan.Cylinders;
        var torque = 0.0;
        for (var c = 0; c < n; c++)
        {
            // Cylinder c is at top dead centre of its power stroke at angle 0 of its own cycle.
            var own = _angle - (Cycle * c / n);
            var turn = (int)Math.Floor(own / Cycle);
            if (turn != _fired[c])
            {
                _fired[c] = turn;
                _work[c] = Work(c, time);
                firings?.Add(new(c, time, _work[c], _speed));
            }

            var at = (int)((own - (turn * Cycle)) / Cycle * TableSize) % TableSize;
            torque += (WorkJoules * _work[c] * GasTorque[at]) + (CompressionNm * _charge * CompressionTorque[at]);
            torque -= ReciprocatingKg * CrankRadius * CrankRadius * _speed * _speed * 0.5 * Math.Sin(2 * own);
        }

        var mean = WorkJoules * n / Cycle * _plan.Strength.Average();
        _load += (-_load * StepSeconds / 2) + (_plan.Wander * Math.Sqrt(StepSeconds) * Gauss());
        var hunting = _plan.Hunting * Math.Sin(2 * Math.PI * time / 4);
        torque -= mean * (0.8 + (0.2 * _speed / _idle) + _load + hunting);
        _speed = Math.Max(5, _speed + (torque / _inertia * StepSeconds));
        _angle += _speed * StepSeconds;
        Control();
    }

    private double Work(int cylinder, double time)
    {
        if (_plan.Held.Any(h => h.Cylinder == cylinder && time >= h.From && time < h.To))
        {
            return 0;
        }

        if (_plan.Misfires.Length > 0 && _random.NextDouble() < _plan.Misfires[cylinder])
        {
            return 0;
        }

        var (_, _, spark) = Gains();
        var error = (_idle - _slow) / _idle;
        return _plan.Strength[cylinder] * _charge * (1 + Math.Clamp(spark * error, -0.12, 0.12)) * Math.Max(0, 1 + (_plan.Scatter * Gauss()));
    }

    private void Control()
    {
        _slow += (_speed - _slow) * StepSeconds / 0.06;
        var (proportional, integral, _) = Gains();
        var error = (_idle - _slow) / _idle;
        _integral = Math.Clamp(_integral + (integral * error * StepSeconds), -0.5, 0.5);
        var air = Math.Max(0.1, 1 + (proportional * error) + _integral) * _idle / Math.Max(20, _slow);
        _charge += (air - _charge) * StepSeconds / (0.35 * _idle / Math.Max(20, _slow));
    }

    private (double Proportional, double Integral, double Spark) Gains() => _plan.Hold switch
    {
        IdleHold.None => (0, 0, 0),
        IdleHold.Usual => (0.35, 0.15, 0.4),
        IdleHold.Strong => (1.2, 0.9, 1.2),
        _ => throw new InvalidOperationException($"Unknown hold {_plan.Hold}."),
    };

    /// <summary>Torque of burnt gas for one joule of work: rises fast after top dead centre and is gone after 180 degrees.</summary>
    private static double[] GasShape()
    {
        var shape = new double[TableSize];
        for (var i = 0; i < TableSize / 4; i++)
        {
            var degrees = i * 720.0 / TableSize;
            shape[i] = Math.Sin(degrees * Math.PI / 180) * Math.Exp(-degrees / 55);
        }

        var sum = shape.Sum() * Cycle / TableSize;
        return [.. shape.Select(s => s / sum)];
    }

    /// <summary>Torque of the trapped gas, against before and with after top dead centre: no work over a cycle.</summary>
    private static double[] CompressionShape()
    {
        var shape = new double[TableSize];
        for (var i = 0; i < TableSize / 4; i++)
        {
            var degrees = i * 720.0 / TableSize;
            shape[i] = Math.Sin(degrees * Math.PI / 180) * Math.Exp(-degrees / 35) * 2.5;
            shape[(TableSize - i) % TableSize] = -shape[i];
        }

        return shape;
    }

    private double Gauss() => Math.Sqrt(-2 * Math.Log(1 - _random.NextDouble())) * Math.Cos(2 * Math.PI * _random.NextDouble());
}
