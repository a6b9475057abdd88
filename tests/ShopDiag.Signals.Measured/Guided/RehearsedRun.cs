using ShopDiag.Signals.Cancellations;
using ShopDiag.Signals.Guided;
using ShopDiag.Signals.Live;
using ShopDiag.Signals.Measured.Engines;
using ShopDiag.Signals.Measured.Noise;
using ShopDiag.Signals.Speed;

namespace ShopDiag.Signals.Measured.Guided;

/// <summary>
/// An engine whose technician does what the guided run says, a moment later. Made by rehearsal: the run listens to the engine as far as it is known, says when the next cylinder is
/// to go off, the engine is made again with that cylinder off, and so on. Cylinders are counted from 1 in firing order.
/// </summary>
internal sealed record RehearsedRun
{
    private const double Latency = 0.2;

    public required RunPlan Plan { get; init; }

    /// <summary>Share of the work, in firing order.</summary>
    public required double[] Strength { get; init; }

    public double IdleRpm { get; init; } = 750;

    /// <summary>What the listener is told, rpm.</summary>
    public double RoughRpm { get; init; } = 770;

    /// <summary>From the word to the deed.</summary>
    public double HandSeconds { get; init; } = 1.2;

    public int Seed { get; init; } = 71;

    public int Rate { get; init; } = 16000;

    public Scene? Scene { get; init; }

    public double SnrDb { get; init; } = 10;

    private EngineToHear Engine => EngineToHear.Create(Strength.Length, RoughRpm).Value;

    /// <summary>The whole sound, with the recovery after the last turn; what the guide noted; when the cylinders were really off.</summary>
    public (float[] Sound, GuidedRun Guide, Held[] Held) Play()
    {
        var held = new List<Held>();
        foreach (var cylinder in Plan.Order)
        {
            var seconds = (held.Count == 0 ? 0 : held[^1].To) + Plan.RestSeconds + 30;
            var (guide, turn) = (default(GuidedRun), held.Count);
            guide = Listen(Sound(held, seconds), g => g.Phase == RunPhase.Cancelling && g.Passes.Length == turn);
            if (guide.Phase != RunPhase.Cancelling)
            {
                return (Sound(held, seconds), guide, [.. held]);
            }

            var off = guide.Since + HandSeconds;
            held.Add(new(cylinder - 1, off, off + Plan.HoldSeconds + HandSeconds));
        }

        var sound = Sound(held, held[^1].To + 25);
        return (sound, Listen(sound, g => g.Phase == RunPhase.Done), [.. held]);
    }

    /// <summary>The guide's turns as they are announced to the finder.</summary>
    public static IEnumerable<Announced> Times(GuidedRun guide) => guide.Passes.Select(p => new Announced(p.Cylinder, p.From - Latency, p.To - Latency));

    private GuidedRun Listen(float[] sound, Func<GuidedRun, bool> enough)
    {
        var (live, run) = (new LiveSpeed(Engine, Rate), new GuidedRun(Plan, 0));
        foreach (var block in sound.Chunk(Rate / 10))
        {
            foreach (var point in live.Feed(block))
            {
                run.Hear(point, live.Seconds + Latency);
            }

            run.Tick(live.Seconds + Latency);
            if (enough(run))
            {
                break;
            }
        }

        return run;
    }

    private float[] Sound(List<Held> held, double seconds)
    {
        var plan = new EnginePlan { Cylinders = Strength.Length, IdleRpm = IdleRpm, Strength = Strength, Held = [.. held], Seconds = seconds };
        var engine = EngineVoice.Sound(CrankSimulation.Run(plan, Seed), Strength.Length, Microphone.Some(Seed), Rate, Seed + 1);
        return Scene is { } scene ? scene.Heard(engine, Rate, SnrDb, IdleRpm, Strength.Length, Seed + 2) : engine;
    }
}
