using ShopDiag.Signals.Waveforms;
using ShopDiag.Signals.Waveforms.Cranking;

namespace ShopDiag.Signals.Measured.Cranking;

/// <summary>One engine on its starter, recorded.</summary>
internal sealed class CrankingTrial
{
    /// <summary>What may be wrong.</summary>
    public static readonly string[] Kinds = ["sound", "one weak", "two weak", "dead"];

    /// <summary>An engine that its starter does not turn is drawn again; so is one whose cranking holds fewer than three cycles and a half.</summary>
    private const double LeastRpm = 100, LeastCycles = 3.5;

    public CrankingTrial(int cylinders, string wrong, double snrDb, int seed)
    {
        (Engine, Run) = Turning(cylinders, wrong, seed);
        (Truth, Recorded, Wrong) = (Run.TrueShare, Run.Recorded(snrDb, seed + 5), wrong);
    }

    public CrankedEngine Engine { get; }

    public CrankingRun Run { get; }

    public string Wrong { get; }

    /// <summary>True peak gauge pressures in firing order, as shares of the sound level.</summary>
    public double[] Truth { get; }

    public Waveform Recorded { get; }

    /// <summary>With the coil of the first cylinder as sync.</summary>
    public CrankingRequest Request => new() { Channel = 0, Cylinders = Engine.Cylinders, FiringOrder = [.. Enumerable.Range(1, Engine.Cylinders)], Sync = new(2, 1) };

    private static (CrankedEngine Engine, CrankingRun Run) Turning(int cylinders, string wrong, int seed)
    {
        for (var again = 0; ; again++)
        {
            var engine = CrankedEngine.Drawn(cylinders, wrong, seed + (again * 1000003));
            var run = CrankingRun.Of(engine);
            if (run.Rpm > LeastRpm && run.Rpm / 120 * (engine.CrankSeconds - 0.7) > LeastCycles)
            {
                return (engine, run);
            }
        }
    }
}
