using ShopDiag.Signals.Measured.Engines;
using ShopDiag.Signals.Measured.Noise;
using ShopDiag.Signals.Speed;

namespace ShopDiag.Signals.Measured.Tables;

/// <summary>One balance run on one engine in one scene.</summary>
internal sealed record Trial(int Cylinders, double IdleRpm, Scene Scene, double SnrDb, int Seed)
{
    public int Rate { get; init; } = 16000;

    /// <summary>What the listener is told, rpm; the true idle off by up to 15 %.</summary>
    public double RoughRpm => IdleRpm * (0.85 + (0.3 * new Random(Seed + 5).NextDouble()));

    public EnginePlan Plan { get; init; } = EnginePlan.Balance(Cylinders, IdleRpm, Seed);

    public CrankRun Run() => CrankSimulation.Run(Plan, Seed + 1000);

    public float[] Sound(CrankRun run)
    {
        var engine = EngineVoice.Sound(run, Cylinders, Microphone.Some(Seed), Rate, Seed + 2000);
        return Scene.Heard(engine, Rate, SnrDb, IdleRpm, Cylinders, Seed + 3000);
    }

    public EngineToHear Engine => EngineToHear.Create(Cylinders, RoughRpm).Value;
}
