using ShopDiag.Signals.Measured.Engines;
using ShopDiag.Signals.Measured.Noise;
using ShopDiag.Signals.Measured.Tables;
using ShopDiag.Signals.Speed;

namespace ShopDiag.Signals.Measured.Loops;

/// <summary>Warps real loops along balance runs, adds the shop and measures as with the synthetic engines: a row a loop and noise.</summary>
internal static class LoopTable
{
    /// <summary>The idle of every run, rpm.</summary>
    private const double Idle = 750;

    public static void Print(Options options, TextWriter output)
    {
        output.WriteLine("| loop | cylinders | own speed, rpm | likeness | dB | speed error, median % | 95th % | off by > 10 % | drops found | false | to be taken again | drop error, rpm |");
        output.WriteLine("|---|---:|---:|---:|---:|---:|---:|---:|---:|---:|---:|---:|");
        var all = options.Snr.ToDictionary(s => s, _ => new List<Outcome>());
        foreach (var loop in EngineLoop.In(options.Loops!))
        {
            var own = OwnSpeed.Of(loop);
            if (own is null || own.Likeness < OwnSpeed.LeastLikeness)
            {
                output.WriteLine(FormattableString.Invariant($"| {loop.Name} | {loop.Cylinders} | not steady | {own?.Likeness ?? 0:0.00} | | | | | | | | |"));
                continue;
            }

            foreach (var snr in options.Snr)
            {
                var outcome = Of(options, loop, own, snr);
                all[snr].Add(outcome);
                Write(output, FormattableString.Invariant($"{loop.Name} | {loop.Cylinders} | {own.Rpm:0} | {own.Likeness:0.00}"), snr, outcome);
            }
        }

        foreach (var (snr, outcomes) in all.Where(a => a.Value.Count > 0))
        {
            Write(output, "all | | | ", snr, Outcome.Together(outcomes));
        }
    }

    private static Outcome Of(Options options, EngineLoop loop, OwnSpeed own, double snr)
    {
        var outcomes = new Outcome[options.Seeds];
        Parallel.For(0, options.Seeds, new ParallelOptions { MaxDegreeOfParallelism = options.Parallel }, s =>
        {
            var trial = new Trial(loop.Cylinders, Idle, Scene.Shop, snr, options.First + (1000 * loop.Cylinders) + s);
            var run = trial.Run();
            var engine = LoopVoice.Sound(loop, own, run, Microphone.Some(trial.Seed), trial.Rate, trial.Seed + 2000);
            var heard = trial.Scene.Heard(engine, trial.Rate, snr, Idle, loop.Cylinders, trial.Seed + 3000);
            outcomes[s] = Outcome.Of(trial.Plan, run, SoundSpeed.Follow(heard, trial.Rate, trial.Engine));
        });
        return Outcome.Together(outcomes);
    }

    private static void Write(TextWriter output, string name, double snr, Outcome o)
    {
        output.WriteLine(FormattableString.Invariant(
            $"| {name} | {snr} | {o.Median:0.00} | {o.At95:0.0} | {o.GrossPercent:0.00} | {o.Found}/{o.Drops} | {o.False} | {o.TakenAgain} | {o.DropError:0.0} |"));
        output.Flush();
    }
}
