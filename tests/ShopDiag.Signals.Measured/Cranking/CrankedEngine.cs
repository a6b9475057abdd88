namespace ShopDiag.Signals.Measured.Cranking;

/// <summary>Why a cylinder does not compress as the others do.</summary>
internal enum Weakness
{
    /// <summary>Gas escapes past rings, valves or gasket: less pressure, and less of it comes back after top dead centre.</summary>
    Leak,

    /// <summary>Compression begins late (valve lash, cam): less pressure, none lost.</summary>
    Late,
}

/// <summary>
/// An engine on its starter. Values of the usual size, from memory; no particular engine. Torques and inertias as felt at the crank; angles in degrees of crank after top dead centre.
/// </summary>
internal sealed record CrankedEngine
{
    private static readonly double[] Rates = [1000, 2000, 5000, 10000, 20000];

    public required int Cylinders { get; init; }

    /// <summary>Peak gauge pressure of each as a share of a sound one's, in firing order, at the mean speed.</summary>
    public required double[] Share { get; init; }

    public Weakness Weakness { get; init; }

    public required double CompressionRatio { get; init; }

    /// <summary>Swept volume of a cylinder, m³.</summary>
    public required double Swept { get; init; }

    public required double Polytropic { get; init; }

    public required double IntakeCloses { get; init; }

    public required double ExhaustOpens { get; init; }

    /// <summary>Crank, flywheel and pistons, kg m².</summary>
    public required double EngineInertia { get; init; }

    /// <summary>The armature through its gears, kg m².</summary>
    public required double StarterInertia { get; init; }

    /// <summary>Mean friction once warm, N m; a third of it grows with speed, and at the start it is up to half as much again.</summary>
    public required double Friction { get; init; }

    public required double ColdFriction { get; init; }

    /// <summary>Of the armature and its gears, N m at the crank: what makes it take 30 to 60 A when it turns alone.</summary>
    public required double StarterFriction { get; init; }

    /// <summary>The speed aimed at, radian a second.</summary>
    public required double Speed { get; init; }

    public required double BatteryVolts { get; init; }

    /// <summary>Volts lost over the cranking, with a time constant of 3 s.</summary>
    public required double Droop { get; init; }

    /// <summary>Armature, brushes and cables, ohm.</summary>
    public required double StarterOhms { get; init; }

    public required double BatteryOhms { get; init; }

    public required double Henry { get; init; }

    /// <summary>Armature turns for a turn of the crank.</summary>
    public required double Gear { get; init; }

    public required double CrankSeconds { get; init; }

    public required double StartDegrees { get; init; }

    /// <summary>Spark of the cylinder that is first in the firing order, degrees before top dead centre.</summary>
    public required double SparkBefore { get; init; }

    public required double SampleRate { get; init; }

    public required int Bits { get; init; }

    /// <summary>An engine drawn from a seed, all of it sound.</summary>
    public static CrankedEngine Sound(int cylinders, int seed)
    {
        var random = new Random(seed);
        double Between(double low, double high) => low + ((high - low) * random.NextDouble());
        var litres = Between(0.33, 0.6);
        var diesel = random.Next(5) == 0;
        var friction = cylinders * litres * Between(16, 28);
        return new()
        {
            Cylinders = cylinders,
            Share = [.. Enumerable.Range(0, cylinders).Select(_ => Between(0.98, 1))],
            CompressionRatio = diesel ? Between(15, 18) : Between(8.5, 12.5),
            Swept = litres / 1000,
            Polytropic = Between(1.24, 1.34),
            IntakeCloses = Between(-145, -110),
            ExhaustOpens = Between(125, 150),
            EngineInertia = cylinders * litres * Between(0.07, 0.14) * (diesel ? 1.5 : 1),
            StarterInertia = Between(0.03, 0.12),
            Friction = friction,
            StarterFriction = friction * Between(0.2, 0.4),
            ColdFriction = Between(0.1, 0.5),
            Speed = Between(150, 260) * Math.PI / 30,
            BatteryVolts = Between(12.0, 12.8),
            Droop = Between(0.1, 0.6),
            StarterOhms = Between(0.3, 0.45) / friction,
            BatteryOhms = Between(0.12, 0.22) / friction,
            Henry = Between(10e-6, 40e-6),
            Gear = Between(12, 60),
            CrankSeconds = Between(3.5, 6.5),
            StartDegrees = Between(0, 720),
            SparkBefore = Between(0, 10),
            SampleRate = Rates[random.Next(Rates.Length)],
            Bits = random.Next(2) == 0 ? 8 : 12,
        };
    }

    /// <summary>An engine drawn from a seed with something wrong: one weak cylinder, two of them, or a dead one.</summary>
    public static CrankedEngine Drawn(int cylinders, string wrong, int seed)
    {
        var engine = Sound(cylinders, seed);
        var random = new Random(seed + 17);
        double[] share = [.. engine.Share];
        var first = random.Next(cylinders);
        var second = (first + 1 + random.Next(cylinders - 1)) % cylinders;
        switch (wrong)
        {
            case "sound":
                break;
            case "one weak":
                share[first] = 0.5 + (0.42 * random.NextDouble());
                break;
            case "two weak":
                share[first] = 0.5 + (0.42 * random.NextDouble());
                share[second] = 0.5 + (0.42 * random.NextDouble());
                break;
            case "dead":
                share[first] = 0.05;
                break;
            default:
                throw new FormatException($"No engine is '{wrong}'.");
        }

        var weakness = wrong != "dead" && random.Next(3) == 0 ? Weakness.Late : Weakness.Leak;
        return engine with { Share = share, Weakness = weakness };
    }
}
