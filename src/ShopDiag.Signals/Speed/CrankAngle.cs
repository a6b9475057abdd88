namespace ShopDiag.Signals.Speed;

/// <summary>The angle of the crank over time that a trace of the speed gives, in working cycles (two revolutions) from the start.</summary>
internal sealed class CrankAngle
{
    private readonly double _hop;
    private readonly double[] _cycles;

    /// <summary>From speeds (rpm) at even times from 0 on.</summary>
    public CrankAngle(double[] rpm, double hopSeconds)
    {
        _hop = hopSeconds;
        _cycles = new double[rpm.Length];
        for (var i = 1; i < rpm.Length; i++)
        {
            _cycles[i] = _cycles[i - 1] + (hopSeconds * EngineToHear.CycleHz((rpm[i] + rpm[i - 1]) / 2));
        }
    }

    /// <summary>Cycles in all.</summary>
    public double Cycles => _cycles[^1];

    /// <summary>Cycles at a time.</summary>
    public double At(double seconds)
    {
        var at = Math.Clamp(seconds / _hop, 0, _cycles.Length - 1);
        var i = Math.Min((int)at, Math.Max(0, _cycles.Length - 2));
        return _cycles.Length == 1 ? 0 : _cycles[i] + ((at - i) * (_cycles[i + 1] - _cycles[i]));
    }

    /// <summary>The samples of a band at even angles, so many a cycle, by cubic interpolation (Catmull and Rom).</summary>
    public float[] LayOut(Band band, int perCycle)
    {
        var laid = new float[(int)(Cycles * perCycle)];
        var samples = band.Span;
        var segment = 0;
        for (var i = 0; i < laid.Length; i++)
        {
            var angle = (double)i / perCycle;
            while (segment < _cycles.Length - 2 && _cycles[segment + 1] < angle)
            {
                segment++;
            }

            var seconds = _hop * (segment + ((angle - _cycles[segment]) / (_cycles[segment + 1] - _cycles[segment])));
            var at = band.At(seconds);
            var n = (int)at;
            if (n < 1 || n + 2 >= samples.Length)
            {
                continue;
            }

            var x = (float)(at - n);
            var (a, b, c, d) = (samples[n - 1], samples[n], samples[n + 1], samples[n + 2]);
            laid[i] = b + (0.5f * x * (c - a + (x * ((2 * a) - (5 * b) + (4 * c) - d + (x * ((3 * (b - c)) + d - a))))));
        }

        return laid;
    }
}
