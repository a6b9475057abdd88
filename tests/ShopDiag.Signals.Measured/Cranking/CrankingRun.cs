using ShopDiag.Signals.Waveforms;

namespace ShopDiag.Signals.Measured.Cranking;

/// <summary>
/// A cranking, integrated in steps of 0.1 ms: J dw/dt = eta k I - friction(w, t) - sum of the gas torques; L dI/dt = V(t) - I (Ra + Rb) - k w, k as felt at the crank. The starter drives
/// through a one-way clutch: when the crank runs ahead of it, each turns by itself. The reciprocating masses are left out: 0.2 N m at 200 rpm.
/// </summary>
internal sealed class CrankingRun
{
    public const double Rest = 0.3;
    private const double Step = 1e-4;
    private const double Efficiency = 0.85;
    private readonly CrankedEngine _engine;
    private readonly double[] _amps;
    private readonly double[] _volts;
    private readonly double[] _angle;
    private readonly List<(int Position, double Seconds, double Peak)> _peaks = [];

    private CrankingRun(CrankedEngine engine)
    {
        _engine = engine;
        var steps = (int)((Rest + engine.CrankSeconds + 0.3) / Step);
        (_amps, _volts, _angle) = (new double[steps], new double[steps], new double[steps]);
    }

    /// <summary>True peak gauge pressures, mean over the cranking from 0.8 s on, as a share of the level of the sound ones: the median of the better half.</summary>
    public double[] TrueShare
    {
        get
        {
            double[] mean = [.. Enumerable.Range(0, _engine.Cylinders).Select(c => _peaks.Where(p => p.Position == c && p.Seconds > Rest + 0.8).Average(p => p.Peak))];
            var level = Diagnosis.Statistics.Robust.SoundLevel(mean);
            return [.. mean.Select(m => m / level)];
        }
    }

    /// <summary>Mean speed from 0.8 s on, rpm.</summary>
    public double Rpm
    {
        get
        {
            var (from, to) = ((int)((Rest + 0.8) / Step), (int)((Rest + _engine.CrankSeconds) / Step));
            return (_angle[to] - _angle[from]) / 360 / ((to - from) * Step) * 60;
        }
    }

    /// <summary>Share of the time, from 0.8 s on, in which the crank runs ahead of the starter.</summary>
    public double Ahead { get; private set; }

    public static CrankingRun Of(CrankedEngine engine)
    {
        var run = new CrankingRun(engine);
        run.Integrate();
        return run;
    }

    /// <summary>
    /// What an oscilloscope makes of it: amps of a clamp, volts of the battery, and the coil of the cylinder that is first in the firing order. Noise is white, of a power that in the
    /// first 500 Hz lies <paramref name="snrDb"/> below that of the humps; brush ripple is 2 % at the commutator's rate and 0.5 % at the armature's; the converter has few bits.
    /// </summary>
    public Waveform Recorded(double snrDb, int seed)
    {
        var random = new Random(seed);
        var rate = _engine.SampleRate;
        var length = (int)(_amps.Length * Step * rate);
        var (amps, volts, coil) = (new float[length], new float[length], new float[length]);
        var noise = Humps() * Math.Pow(10, -snrDb / 20) * Math.Sqrt(rate / 1000);
        for (var i = 0; i < length; i++)
        {
            var at = (int)(i / rate / Step);
            var armature = _angle[at] / 180 * Math.PI * _engine.Gear;
            var ripple = 1 + (0.02 * Math.Sin(21 * armature)) + (0.005 * Math.Sin(armature));
            amps[i] = Converted((_amps[at] * ripple) + (noise * Gauss(random)), 1200);
            volts[i] = Converted(_volts[at] - (_engine.BatteryOhms * ((_amps[at] * (ripple - 1)) + (noise * Gauss(random)))), 20);
            coil[i] = CoilOn(at) ? 0.4f : 12;
        }

        return new(rate, 0, [new("current", "A", amps), new("battery", "V", volts), new("coil", "V", coil)]);
    }

    private float Converted(double value, double range)
    {
        var step = range / Math.Pow(2, _engine.Bits);
        return (float)(Math.Round(value / step) * step);
    }

    /// <summary>The coil is fed for 3 ms before its spark.</summary>
    private bool CoilOn(int at)
    {
        const int Dwell = (int)(0.003 / Step);
        double Spark(int i) => Math.Floor((_angle[Math.Min(i, _angle.Length - 1)] + _engine.SparkBefore) / 720);
        return at * Step > Rest && at * Step < Rest + _engine.CrankSeconds && Spark(at) < Spark(at + Dwell);
    }

    /// <summary>The humps' own size: the standard deviation of the true current from 0.8 s on.</summary>
    private double Humps()
    {
        var part = _amps.AsSpan((int)((Rest + 0.8) / Step)..(int)((Rest + _engine.CrankSeconds) / Step)).ToArray();
        var mean = part.Average();
        return Math.Sqrt(part.Average(a => (a - mean) * (a - mean)));
    }

    private void Integrate()
    {
        var e = _engine;
        var ohms = e.StarterOhms + e.BatteryOhms;
        var k = MotorConstant(ohms);
        CylinderGas[] gas = [.. e.Share.Select(s => new CylinderGas(e, s))];
        var (angle, speed, starter, amps, ahead) = (e.StartDegrees, 0.0, 0.0, 0.0, 0);
        var peak = new double[e.Cylinders];
        for (var i = 0; i < _amps.Length; i++)
        {
            var t = (i * Step) - Rest;
            var on = t >= 0 && t < e.CrankSeconds;
            var open = e.BatteryVolts - (on ? e.Droop * (1 - Math.Exp(-t / 3)) : 0);
            amps = on ? Math.Max(0, ((amps * e.Henry / Step) + open - (k * starter)) / ((e.Henry / Step) + ohms)) : 0;
            var load = GasTorque(gas, angle, speed, peak, i * Step);
            var friction = e.Friction * (0.67 + (0.33 * speed / e.Speed)) * (1 + (e.ColdFriction * Math.Exp(-Math.Max(0, t) / 1.2)));
            var drive = (Efficiency * k * amps) - _engine.StarterFriction;
            var locked = (drive + load - friction) / (e.EngineInertia + e.StarterInertia);
            if (on && starter >= speed - 1e-9 && drive - (e.StarterInertia * locked) >= 0)
            {
                speed = starter = Math.Max(0, speed + (locked * Step));
            }
            else
            {
                speed = Math.Max(0, speed + ((load - friction) / e.EngineInertia * Step));
                starter = on ? Math.Min(speed, starter + (drive / e.StarterInertia * Step)) : 0;
                ahead += t > 0.8 && on ? 1 : 0;
            }

            angle += speed * Step * 180 / Math.PI;
            (_amps[i], _volts[i], _angle[i]) = (amps, open - (e.BatteryOhms * amps), angle);
        }

        Ahead = ahead * Step / (e.CrankSeconds - 0.8);
    }

    private double GasTorque(CylinderGas[] gas, double angle, double speed, double[] peak, double seconds)
    {
        var torque = 0.0;
        for (var c = 0; c < gas.Length; c++)
        {
            var own = angle - (720.0 * c / gas.Length);
            own -= 720 * Math.Round(own / 720);
            torque += gas[c].Turn(own, speed * Step, Step);
            peak[c] = Math.Max(peak[c], gas[c].Pressure - CylinderGas.Air);
            if (own > 200 && peak[c] > 0)
            {
                _peaks.Add((c, seconds, peak[c]));
                peak[c] = 0;
            }
        }

        return torque;
    }

    /// <summary>k from k w = V - R M / (eta k), the mean torque at the mean speed.</summary>
    private double MotorConstant(double ohms)
    {
        var torque = (_engine.Friction + _engine.StarterFriction) / Efficiency;
        var half = _engine.BatteryVolts / (2 * _engine.Speed);
        return half + Math.Sqrt(Math.Max(0, (half * half) - (ohms * torque / _engine.Speed)));
    }

    private static double Gauss(Random random) => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
