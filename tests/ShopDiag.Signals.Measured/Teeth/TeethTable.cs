using ShopDiag.Signals.Waveforms.Teeth;

namespace ShopDiag.Signals.Measured.Teeth;

/// <summary>How many misfiring cylinders are named, a row a number of cylinders, speed and knowledge of the teeth.</summary>
internal static class TeethTable
{
    private static readonly double[] Speeds = [700, 1000, 1500];

    /// <summary>What one trial gave.</summary>
    internal sealed record Outcome(int Bad, int Named, int False, int Lost, int Counted, bool Refused);

    public static void Print(Options options, TextWriter output)
    {
        output.WriteLine("| teeth | cylinders | rpm | misfiring cylinders named | false ones | sound engines with a false one | firings lost | counted | refused |");
        output.WriteLine("|---|---:|---:|---:|---:|---:|---:|---:|---:|");
        foreach (var learnt in new[] { false, true })
        {
            foreach (var n in options.Cylinders)
            {
                foreach (var rpm in Speeds)
                {
                    TeethTrial[] trials = [.. from kind in TeethTrial.Kinds from s in Enumerable.Range(0, options.Seeds) select new TeethTrial(n, rpm, kind, options.First + (1000 * n) + (int)rpm + s)];
                    var outcomes = new Outcome[trials.Length];
                    Parallel.For(0, trials.Length, new ParallelOptions { MaxDegreeOfParallelism = options.Parallel }, i => outcomes[i] = Of(trials[i], learnt));
                    Write(output, learnt, n, rpm, trials, outcomes);
                    for (var i = 0; i < trials.Length && options.Each; i++)
                    {
                        output.WriteLine($"    {trials[i].Wrong} {trials[i].Seed} lost [{string.Join(" ", trials[i].Lost)}] {outcomes[i]}");
                    }
                }
            }
        }
    }

    /// <summary>Plays one trial.</summary>
    public static Outcome Of(TeethTrial trial, bool learnt)
    {
        var run = trial.Run();
        var request = trial.Request(run) with { Errors = learnt ? ToothErrors.Learn(trial.Unfuelled(), trial.Wheel).Value : null };
        var result = CrankTeeth.Analyse(trial.ToothTimes(run), request);
        int[] named = [.. result.Cylinders.Where(c => c.Misfiring).Select(c => c.Cylinder!.Value)];
        var lost = run.Firings.Count(f => f.Work == 0 && trial.Lost[f.Cylinder] > 0);
        return new(trial.Bad.Length, named.Count(trial.Bad.Contains), named.Count(c => !trial.Bad.Contains(c)), lost, result.Cylinders.Where(c => trial.Bad.Contains(c.Cylinder!.Value)).Sum(c => c.Misfires), result.Refused is not null);
    }

    private static void Write(TextWriter output, bool learnt, int n, double rpm, TeethTrial[] trials, Outcome[] outcomes)
    {
        var soundFalse = trials.Zip(outcomes).Count(t => t.First.Bad.Length == 0 && t.Second.False > 0);
        output.WriteLine(FormattableString.Invariant(
            $"| {(learnt ? "learnt" : "not known")} | {n} | {rpm} | {outcomes.Sum(o => o.Named)}/{outcomes.Sum(o => o.Bad)} | {outcomes.Sum(o => o.False)} | {soundFalse}/{trials.Count(t => t.Bad.Length == 0)} | {outcomes.Sum(o => o.Lost)} | {outcomes.Sum(o => o.Counted)} | {outcomes.Count(o => o.Refused)} |"));
        output.Flush();
    }
}
