using ShopDiag.Signals.Measured.Engines;
using ShopDiag.Signals.Measured.Noise;
using ShopDiag.Signals.Measured.Tables;
using ShopDiag.Signals.Speed;

namespace ShopDiag.Signals.Measured.Loops;

/// <summary>Warps real loops along balance runs, adds the shop and measures as with the synthetic engines.</summary>
internal static class LoopTable
{
    /// <summary>The idle of every run, rpm.</summary>
    private const double Idle = 750;

    /// <summary>A loop and the speed at which it was recorded.</summary>
    private sealed record Known(EngineLoop Loop, OwnSpeed Own);

    /// <summary>Prints the loops with their own speeds, then the table; noises other than the clean one and the plain shop only where the options name them.</summary>
    public static void Print(Options options, TextWriter output)
    {
        var loops = Loops(options.Loops!, output);
        var scenes = options.Scenes.Length < Scene.All.Length ? options.Scenes : [Scene.Clean, Scene.Shop];
        output.WriteLine();
        output.WriteLine("| noise | dB | cylinders | speed error, median % | 95th % | off by > 10 % | drops found | false | to be taken again | drop error, rpm | of all found |");
        output.WriteLine("|---|---:|---:|---:|---:|---:|---:|---:|---:|---:|---:|");
        foreach (var scene in scenes)
        {
            foreach (var snr in options.Snr)
            {
                var all = loops.GroupBy(l => l.Loop.Cylinders).Select(same => Row(options, output, scene, snr, [.. same])).ToArray();
                Write(output, scene.Name, snr, "all", Outcome.Together(all));
            }
        }
    }

    private static List<Known> Loops(string folder, TextWriter output)
    {
        output.WriteLine("| loop | cylinders | own speed, rpm | likeness | pulses | its halves differ by, % |");
        output.WriteLine("|---|---:|---:|---:|---:|---:|");
        var known = new List<Known>();
        foreach (var loop in EngineLoop.In(folder))
        {
            var own = OwnSpeed.Of(loop);
            output.WriteLine(FormattableString.Invariant(
                $"| {loop.Name} | {loop.Cylinders} | {(own is { Certain: true } ? $"{own.Rpm:0}" : "not certain")} | {own?.Likeness:0.00} | {own?.Pulses:0.00} | {100 * own?.Drift:0.0} |"));
            if (own is { Certain: true })
            {
                known.Add(new(loop, own));
            }
        }

        return known.Count > 0 ? known : throw new FormatException($"None of the loops that are listed lies in {folder}. docs/listening.md says where they come from.");
    }

    private static Outcome Row(Options options, TextWriter output, Scene scene, double snr, Known[] loops)
    {
        var outcomes = new Outcome[loops.Length * options.Seeds];
        Parallel.For(0, outcomes.Length, new ParallelOptions { MaxDegreeOfParallelism = options.Parallel }, i =>
        {
            var (known, cylinders) = (loops[i / options.Seeds], loops[0].Loop.Cylinders);
            outcomes[i] = Of(known, new(cylinders, Idle, scene, snr, options.First + (1000 * cylinders) + (i % options.Seeds)));
        });
        var together = Outcome.Together(outcomes);
        Write(output, scene.Name, snr, $"{loops[0].Loop.Cylinders}", together);
        for (var i = 0; i < loops.Length && options.Each; i++)
        {
            Write(output, $"  {loops[i].Loop.Name}", snr, $"{loops[i].Loop.Cylinders}", Outcome.Together(outcomes[(i * options.Seeds)..((i + 1) * options.Seeds)]));
        }

        return together;
    }

    private static Outcome Of(Known known, Trial trial)
    {
        var run = trial.Run();
        var engine = LoopVoice.Sound(known.Loop, known.Own, run, Microphone.Some(trial.Seed), trial.Rate, trial.Seed + 2000);
        var heard = trial.Scene.Heard(engine, trial.Rate, trial.SnrDb, Idle, trial.Cylinders, trial.Seed + 3000);
        return Outcome.Of(trial.Plan, run, SoundSpeed.Follow(heard, trial.Rate, trial.Engine));
    }

    private static void Write(TextWriter output, string name, double snr, string cylinders, Outcome o)
    {
        output.WriteLine(FormattableString.Invariant(
            $"| {name} | {snr} | {cylinders} | {o.Median:0.00} | {o.At95:0.0} | {o.GrossPercent:0.00} | {o.Found}/{o.Drops} | {o.False} | {o.TakenAgain} | {Rpm(o.DropError)} | {Rpm(o.FoundError)} |"));
        output.Flush();
    }

    private static string Rpm(double error) => double.IsNaN(error) ? "-" : FormattableString.Invariant($"{error:0.0}");
}
