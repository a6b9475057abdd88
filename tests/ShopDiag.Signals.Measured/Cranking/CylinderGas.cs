namespace ShopDiag.Signals.Measured.Cranking;

/// <summary>
/// The gas of one cylinder: compressed by the piston along p V^n = constant from the intake valve's closing to the exhaust valve's opening, while some of it escapes through a hole
/// (mass flow as the root of p (p - p0)); at the air's pressure for the rest of the cycle. Connecting rod 3.3 times as long as the crank's throw.
/// </summary>
internal sealed class CylinderGas
{
    public const double Air = 1e5;
    private const double Rod = 3.3;
    private readonly CrankedEngine _engine;
    private readonly double _clearance;
    private readonly double _leak;
    private readonly double _closes;

    /// <summary>A cylinder that reaches this share of a sound one's peak gauge pressure at the engine's mean speed.</summary>
    public CylinderGas(CrankedEngine engine, double share)
    {
        (_engine, _clearance, _closes) = (engine, engine.Swept / (engine.CompressionRatio - 1), engine.IntakeCloses);
        if (share >= 1)
        {
            return;
        }

        var aim = share * Peak(new CylinderGas(engine, 1));
        (double low, double high) = engine.Weakness == Weakness.Leak ? (0.0, 1e-2) : (engine.IntakeCloses, -20.0);
        for (var i = 0; i < 50; i++)
        {
            var middle = (low + high) / 2;
            (_leak, _closes) = engine.Weakness == Weakness.Leak ? (middle, _closes) : (0, middle);
            (low, high) = Peak(this) > aim ? (middle, high) : (low, middle);
        }

        Reset();
    }

    /// <summary>Absolute, Pa.</summary>
    public double Pressure { get; private set; } = Air;

    /// <summary>Torque on the crank for a turn of <paramref name="radians"/> in <paramref name="seconds"/>, at <paramref name="degrees"/> after top dead centre of compression (-360 to 360), N m.</summary>
    public double Turn(double degrees, double radians, double seconds)
    {
        var (volume, slope) = Volume(degrees);
        if (degrees < _closes || degrees > _engine.ExhaustOpens)
        {
            Pressure = Air;
            return 0;
        }

        var lost = _leak * Math.Sign(Pressure - Air) * Math.Sqrt(Math.Abs(Pressure - Air) / Air) * seconds;
        Pressure *= Math.Exp(-_engine.Polytropic * ((slope * radians) + lost) / volume);
        return (Pressure - Air) * slope;
    }

    public void Reset() => Pressure = Air;

    /// <summary>Volume and its change a radian.</summary>
    private (double Volume, double Slope) Volume(double degrees)
    {
        var (sin, cos) = Math.SinCos(degrees * Math.PI / 180);
        var root = Math.Sqrt((Rod * Rod) - (sin * sin));
        var half = _engine.Swept / 2;
        return (_clearance + (half * (1 - cos + Rod - root)), half * (sin + (sin * cos / root)));
    }

    /// <summary>Peak gauge pressure at the mean speed.</summary>
    private static double Peak(CylinderGas gas)
    {
        const double Step = 0.25;
        var peak = 0.0;
        gas.Reset();
        var radians = Step * Math.PI / 180;
        for (var degrees = -180.0; degrees < 60; degrees += Step)
        {
            gas.Turn(degrees, radians, radians / gas._engine.Speed);
            peak = Math.Max(peak, gas.Pressure - Air);
        }

        return peak;
    }
}
