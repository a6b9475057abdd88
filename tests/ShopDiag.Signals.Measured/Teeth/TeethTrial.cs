using ShopDiag.Signals.Measured.Engines;
using ShopDiag.Signals.Waveforms.Teeth;

namespace ShopDiag.Signals.Measured.Teeth;

/// <summary>
/// An engine that idles while its crank sensor is recorded: teeth that stand wrong by a normal error, times wrong by a microsecond, a cam pulse a cycle. What is told of the wheel's place is wrong by up to 4 degrees.
/// </summary>
internal sealed record TeethTrial(int Cylinders, double IdleRpm, string Wrong, int Seed)
{
    /// <summary>What may be wrong.</summary>
    public static readonly string[] Kinds = ["sound", "misfires", "dead", "two misfire", "two dead"];

    private const double Jitter = 1e-6;

    public double Seconds { get; init; } = 20;

    /// <summary>Standard deviation of where a tooth stands, share of its pitch.</summary>
    public double ToothError { get; init; } = 0.02;

    public ToothWheel Wheel { get; init; } = (Seed % 2 == 0 ? ToothWheel.Create(60, 2) : ToothWheel.Create(36, 1)).Value;

    /// <summary>In firing order: which do no work, and how often.</summary>
    public double[] Lost
    {
        get
        {
            var (random, lost) = (new Random(Seed + 31), new double[Cylinders]);
            var first = random.Next(Cylinders);
            var second = (first + 1 + random.Next(Cylinders - 1)) % Cylinders;
            (lost[first], lost[second]) = Wrong switch
            {
                "sound" => (0.0, 0.0),
                "misfires" => (0.15, 0),
                "dead" => (1, 0),
                "two misfire" => (0.15, 0.25),
                "two dead" => (1, 1),
                _ => throw new FormatException($"No engine is '{Wrong}'."),
            };
            return lost;
        }
    }

    /// <summary>Cylinder numbers, 1 and up, of those that do no work at times.</summary>
    public int[] Bad => [.. Enumerable.Range(0, Cylinders).Where(i => Lost[i] > 0).Select(i => Order[i])];

    /// <summary>A firing order that is not simply 1 2 3.</summary>
    public int[] Order
    {
        get
        {
            var order = Enumerable.Range(1, Cylinders).ToArray();
            new Random(Seed + 32).Shuffle(order);
            return order;
        }
    }

    public CrankRun Run() => CrankSimulation.Run(Plan with { Seconds = Seconds, Misfires = Lost }, Seed + 1000);

    /// <summary>A run that rolls down from 2000 rpm with the fuel cut.</summary>
    public double[] Unfuelled()
    {
        var plan = Plan with { IdleRpm = 2000, Seconds = 3, Held = [.. Enumerable.Range(0, Cylinders).Select(c => new Held(c, 1, 3))] };
        return [.. ToothTimes(CrankSimulation.Run(plan, Seed + 4000)).Where(t => t is > 1.15 and < 2.1)];
    }

    public TeethRequest Request(CrankRun run, bool cam = true) => new()
    {
        Wheel = Wheel,
        FiringOrder = [.. Order],
        TopAfterGap = TopAfterGap + ((new Random(Seed + 33).NextDouble() - 0.5) * 8),
        Sync = cam ? new([.. CamTimes(run)], Order[1], 60) : null,
    };

    /// <summary>How far each tooth stands from its place, degrees.</summary>
    public double[] TrueErrors => [.. new Random(Seed + 37) is var random ? Enumerable.Range(0, Wheel.Teeth).Select(_ => ToothError * Wheel.Pitch * Gauss(random)) : []];

    public double[] ToothTimes(CrankRun run)
    {
        var (random, error) = (new Random(Seed + 34), TrueErrors);
        var first = Top(run) - TopAfterGap - 1440;
        var times = new List<double>();
        for (var i = 0; ; i++)
        {
            var (turn, place) = Math.DivRem(i, Wheel.Teeth);
            var radians = (first + (360 * turn) + (place * Wheel.Pitch) + error[place]) * Math.PI / 180;
            if (radians >= run.Angle(run.Seconds))
            {
                return [.. times];
            }

            if (radians > 0)
            {
                times.Add(run.TimeAt(radians) + (Jitter * Gauss(random)));
            }
        }
    }

    private EnginePlan Plan => new()
    {
        Cylinders = Cylinders,
        IdleRpm = IdleRpm,
        Strength = [.. new Random(Seed + 35) is var random ? Enumerable.Range(0, Cylinders).Select(_ => 0.95 + (0.1 * random.NextDouble())) : []],
        Held = [],
        Seconds = Seconds,
    };

    private double TopAfterGap => 40 + (new Random(Seed + 36).NextDouble() * 280);

    /// <summary>Top dead centre of the first cylinder, degrees turned.</summary>
    private static double Top(CrankRun run) => run.Angle(run.Firings.First(f => f.Cylinder == 0).Seconds) * 180 / Math.PI;

    /// <summary>A pulse 60 degrees before top dead centre of the second in the firing order.</summary>
    private IEnumerable<double> CamTimes(CrankRun run)
    {
        for (var at = Top(run) + (720.0 / Cylinders) - 60 - 720; at * Math.PI / 180 < run.Angle(run.Seconds); at += 720)
        {
            if (at > 0)
            {
                yield return run.TimeAt(at * Math.PI / 180);
            }
        }
    }

    private static double Gauss(Random random) => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
