using ShopDiag.Signals.Guided;
using ShopDiag.Signals.Live;
using ShopDiag.Signals.Measured.Engines;
using ShopDiag.Signals.Speed;

namespace ShopDiag.Browser.Tests.Running;

/// <summary>
/// The sound of a four-cylinder engine whose technician does what the guided run says. Made by rehearsal: the run listens to the engine as far as it is known, says when the next
/// cylinder is to go off, the engine is made again with that cylinder off a moment later, and so on. The run in the browser then hears the same and says the same, give or take the
/// time its microphone takes to start, which the hand's delay covers on both sides.
/// </summary>
internal static class RehearsedEngine
{
    public const int Cylinders = 4;
    public const double IdleRpm = 750;
    private const int Rate = 16000;
    private const double HandSeconds = 1.2;
    private const double Latency = 0.2;
    private static readonly int[] FiringOrder = [1, 3, 4, 2];

    /// <summary>A WAV file for a plan. <paramref name="strength"/> is each cylinder's share of the work, from cylinder 1 on.</summary>
    public static byte[] Wav(RunPlan plan, double[] strength)
    {
        var held = new List<Held>();
        foreach (var cylinder in plan.Order)
        {
            var said = Announced(plan, Sound(held, strength, 20 + (20 * (held.Count + 1))), held.Count);
            held.Add(new(Array.IndexOf(FiringOrder, cylinder), said + HandSeconds, said + HandSeconds + plan.HoldSeconds + HandSeconds));
        }

        // Played once, Chromium repeats the last hundredth of a second for ever; of silence that is silence.
        float[] whole = [.. Sound(held, strength, held[^1].To + 25), .. new float[Rate]];
        return WavFile.Of(whole, Rate);
    }

    /// <summary>When the run cancels the turn with a number.</summary>
    private static double Announced(RunPlan plan, float[] sound, int turn)
    {
        var (live, run) = (new LiveSpeed(EngineToHear.Create(Cylinders, IdleRpm).Value, Rate), new GuidedRun(plan, 0));
        foreach (var block in sound.Chunk(Rate / 10))
        {
            foreach (var point in live.Feed(block))
            {
                run.Hear(point, live.Seconds + Latency);
            }

            run.Tick(live.Seconds + Latency);
            if (run.Phase == RunPhase.Cancelling && run.Passes.Length == turn)
            {
                return run.Since;
            }
        }

        throw new InvalidOperationException($"The rehearsed run stands in {run.Phase} after {run.Passes.Length} turns.");
    }

    private static float[] Sound(List<Held> held, double[] strength, double seconds)
    {
        var engine = new EnginePlan { Cylinders = Cylinders, IdleRpm = IdleRpm, Strength = [.. FiringOrder.Select(c => strength[c - 1])], Held = [.. held], Seconds = seconds };
        return EngineVoice.Sound(CrankSimulation.Run(engine, 71), Cylinders, new Microphone(), Rate, 72);
    }
}
