using ShopDiag.Diagnosis;

namespace ShopDiag.Signals.Speed;

/// <summary>
/// What must be known of an engine to follow its speed by ear. The number of cylinders has to be right: with a wrong one the speed comes out wrong by a simple fraction.
/// </summary>
public sealed record EngineToHear
{
    /// <summary>Fewest cylinders.</summary>
    public const int FewestCylinders = 3;

    /// <summary>Most cylinders.</summary>
    public const int MostCylinders = 12;

    /// <summary>Slowest speed that can be followed, revolutions a minute.</summary>
    public const double SlowestRpm = 500;

    /// <summary>Fastest speed that can be followed, revolutions a minute.</summary>
    public const double FastestRpm = 3000;

    private EngineToHear(int cylinders, double? roughRpm) => (Cylinders, RoughRpm) = (cylinders, roughRpm);

    /// <summary>Number of cylinders, 3 to 12; four-stroke, each fires once in two revolutions.</summary>
    public int Cylinders { get; }

    /// <summary>
    /// The speed at which it is listened to, known to a fifth or so, revolutions a minute, 500 to 3000; null when nobody knows it. Without it the speed is searched for
    /// between 500 and 3000 and may come out wrong by a simple fraction; <see cref="SpeedTrace.Rival"/> then names the other reading.
    /// </summary>
    public double? RoughRpm { get; }

    /// <summary>Checks and makes one; the error names <c>cylinders</c> or <c>idle</c>.</summary>
    public static Parsed<EngineToHear> Create(int cylinders, double? roughRpm = null)
    {
        if (cylinders is < FewestCylinders or > MostCylinders)
        {
            return new InputError("cylinders", $"{cylinders} cylinders: {FewestCylinders} to {MostCylinders} can be listened to.");
        }

        return roughRpm is null or (>= SlowestRpm and <= FastestRpm)
            ? new EngineToHear(cylinders, roughRpm)
            : new InputError("idle", $"The engine speed is a number from {SlowestRpm} to {FastestRpm} rpm.");
    }

    /// <summary>Firings a second at a speed: rpm N / 120.</summary>
    public static double FiringHz(double rpm, int cylinders) => rpm * cylinders / 120;

    /// <summary>Working cycles a second at a speed: rpm / 120. One cylinder that does not fire shows at this frequency, the half order.</summary>
    public static double CycleHz(double rpm) => rpm / 120;
}
