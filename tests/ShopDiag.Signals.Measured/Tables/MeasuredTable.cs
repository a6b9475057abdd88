using ShopDiag.Signals.Measured.Engines;
using ShopDiag.Signals.Measured.Noise;

namespace ShopDiag.Signals.Measured.Tables;

/// <summary>Plays the trials and writes a table in Markdown, a row a scene, noise and number of cylinders.</summary>
internal static class MeasuredTable
{
    private static readonly double[] Idles = [600, 750, 1000, 1500];

    /// <summary>Prints a table of the kind the options name.</summary>
    public static void Print(Options options, TextWriter output)
    {
        output.WriteLine("| noise | dB | cylinders | speed error, median % | 95th % | off by > 10 % | drops found | false | to be taken again | drop error, rpm |");
        output.WriteLine("|---|---:|---:|---:|---:|---:|---:|---:|---:|---:|");
        switch (options.Kind)
        {
            case "sound":
                Sound(options, output);
                break;
            case "idle":
                Idle(options, output);
                break;
            case "logs":
                Logs(options, output);
                break;
            default:
                throw new FormatException($"There is no table '{options.Kind}'.");
        }
    }

    private static void Sound(Options options, TextWriter output)
    {
        foreach (var scene in options.Scenes)
        {
            foreach (var snr in options.Snr)
            {
                var all = options.Cylinders.Select(n => Row(options, output, scene.Name, snr, $"{n}", [.. Trials(options, [n], scene, snr)])).ToArray();
                Write(output, scene.Name, snr, "all", Outcome.Together(all));
            }
        }
    }

    /// <summary>Idles of other manners: held by no or a strong control, wandering, hunting, of scattered firings.</summary>
    private static void Idle(Options options, TextWriter output)
    {
        foreach (var (name, change) in new (string, Func<EnginePlan, EnginePlan>)[]
        {
            ("no idle control", p => p with { Hold = IdleHold.None }),
            ("strong idle control", p => p with { Hold = IdleHold.Strong }),
            ("firings scatter by 20 %", p => p with { Scatter = 0.2 }),
            ("idle wanders 2.5 times as much", p => p with { Wander = 0.015 }),
            ("idle hunts by 3 % of the torque", p => p with { Hunting = 0.03 }),
        })
        {
            Trial[] trials = [.. Trials(options, options.Cylinders, Scene.Shop, 10).Select(t => t with { Plan = change(t.Plan) })];
            Row(options, output, name, 10, string.Join(" ", options.Cylinders), trials);
        }
    }

    /// <summary>The same runs as logs: lines a second, resolution and noise of the speed.</summary>
    private static void Logs(Options options, TextWriter output)
    {
        foreach (var (hz, step, noise) in new[] { (10.0, 1.0, 0.0), (10, 1, 5), (2, 1, 0), (1, 1, 0), (1, 1, 5), (1, 10, 0), (10, 25, 0), (1, 25, 0) })
        {
            Trial[] trials = [.. Trials(options, options.Cylinders, Scene.Clean, 10)];
            var outcomes = Played(options, trials, t => VirtualLog.Outcome(t, hz, step, noise));
            Write(output, FormattableString.Invariant($"log, {hz} Hz, step {step}, noise {noise} rpm"), double.NaN, string.Join(" ", options.Cylinders), Outcome.Together(outcomes));
        }
    }

    private static IEnumerable<Trial> Trials(Options options, int[] cylinders, Scene scene, double snr) =>
        from n in cylinders
        from rpm in Idles
        from s in Enumerable.Range(0, options.Seeds)
        select new Trial(n, rpm, scene, snr, options.First + (1000 * n) + (int)rpm + s);

    private static Outcome Row(Options options, TextWriter output, string name, double snr, string cylinders, Trial[] trials)
    {
        var outcomes = Played(options, trials, Outcome.Of);
        var together = Outcome.Together(outcomes);
        Write(output, name, snr, cylinders, together);
        for (var i = 0; i < trials.Length && options.Each; i++)
        {
            Write(output, $"  idle {trials[i].IdleRpm}, seed {trials[i].Seed}", snr, $"{trials[i].Cylinders}", outcomes[i]);
        }

        return together;
    }

    private static Outcome[] Played(Options options, Trial[] trials, Func<Trial, Outcome> play)
    {
        var outcomes = new Outcome[trials.Length];
        Parallel.For(0, trials.Length, new ParallelOptions { MaxDegreeOfParallelism = options.Parallel }, i => outcomes[i] = play(trials[i]));
        return outcomes;
    }

    private static void Write(TextWriter output, string name, double snr, string cylinders, Outcome o)
    {
        output.WriteLine(FormattableString.Invariant(
            $"| {name} | {(double.IsNaN(snr) ? "" : FormattableString.Invariant($"{snr}"))} | {cylinders} | {o.Median:0.00} | {o.At95:0.0} | {o.GrossPercent:0.00} | {o.Found}/{o.Drops} | {o.False} | {o.TakenAgain} | {o.DropError:0.0} |"));
        output.Flush();
    }
}
