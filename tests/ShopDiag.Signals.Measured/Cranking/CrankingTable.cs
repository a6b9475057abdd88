using ShopDiag.Signals.Waveforms.Cranking;

namespace ShopDiag.Signals.Measured.Cranking;

/// <summary>How exactly relative compression is read, a row a number of cylinders; and simpler methods beside it.</summary>
internal static class CrankingTable
{
    /// <summary>What one trial gave: errors in percent points, by method.</summary>
    internal sealed record Outcome(double[] Errors, double[] Heights, double[] Torque, double[] Templates, bool WeakestRight, double SoundLow, string? Refused, bool Assigned, double R2);

    public static void Print(Options options, TextWriter output)
    {
        output.WriteLine("| trace | dB | cylinders | trials | error, points | 95th % | worst | weakest right | lowest of sound engines, % | not read | not assigned | hump heights | torque amplitude | one shape for all |");
        output.WriteLine("|---|---:|---:|---:|---:|---:|---:|---:|---:|---:|---:|---:|---:|---:|");
        foreach (var (name, channel) in new[] { ("current", 0), ("battery", 1) })
        {
            foreach (var snr in options.Snr)
            {
                foreach (var n in options.Cylinders)
                {
                    CrankingTrial[] trials = [.. from kind in CrankingTrial.Kinds from s in Enumerable.Range(0, options.Seeds) select new CrankingTrial(n, kind, snr, options.First + (1000 * n) + s)];
                    var outcomes = new Outcome[trials.Length];
                    Parallel.For(0, trials.Length, new ParallelOptions { MaxDegreeOfParallelism = options.Parallel }, i => outcomes[i] = Of(trials[i], channel));
                    Write(output, name, snr, n, trials, outcomes);
                    for (var i = 0; i < trials.Length && options.Each; i++)
                    {
                        var o = outcomes[i];
                        output.WriteLine(FormattableString.Invariant($"    {trials[i].Wrong} {i % options.Seeds}: {o.Errors.DefaultIfEmpty(double.NaN).Average():0.0} worst {o.Errors.DefaultIfEmpty(double.NaN).Max():0.0}, R2 {o.R2:0.000}, runs ahead {trials[i].Run.Ahead:0.00} {o.Refused}"));
                    }
                }
            }
        }
    }

    /// <summary>Plays one trial on the channel of the current (0) or of the battery (1).</summary>
    public static Outcome Of(CrankingTrial trial, int channel)
    {
        var request = trial.Request with { Channel = channel, Signal = channel == 0 ? CrankingSignal.Current : CrankingSignal.BatteryVoltage };
        var (result, stretch, fitted) = CrankingCurrent.Explained(trial.Recorded, request);
        if (result.Refused is not null || !result.Assigned)
        {
            return new([], [], [], [], trial.Wrong is "sound", 100, result.Refused, result.Assigned, result.R2);
        }

        double[] read = [.. result.Cylinders.OrderBy(c => c.Cylinder).Select(c => c.Percent)];
        double[] Errors(double[] shares) => [.. shares.Zip(trial.Truth, (a, b) => 100 * Math.Abs(a - b))];
        var right = trial.Wrong == "sound" || Array.IndexOf(read, read.Min()) == Array.IndexOf(trial.Truth, trial.Truth.Min());
        double[] Other(Func<CrankingStretch, FittedCranking, double[]> method) => Errors(OtherMethods.Turned(method(stretch, fitted!), trial.Truth));
        return new(Errors([.. read.Select(r => r / 100)]), Other(OtherMethods.Heights), Other(OtherMethods.Torque), Other(OtherMethods.Templates), right, trial.Wrong == "sound" ? read.Min() : 100, null, true, result.R2);
    }

    private static void Write(TextWriter output, string name, double snr, int n, CrankingTrial[] trials, Outcome[] outcomes)
    {
        double[] Of(Func<Outcome, double[]> errors) => [.. outcomes.SelectMany(errors).Order()];
        var (all, read) = (Of(o => o.Errors), outcomes.Count(o => o.Refused is null));
        var withWeak = trials.Zip(outcomes).Where(t => t.First.Wrong != "sound" && t.Second.Refused is null && t.Second.Assigned).ToArray();
        output.WriteLine(FormattableString.Invariant(
            $"| {name} | {snr} | {n} | {trials.Length} | {all.Average():0.0} | {all[(int)(0.95 * (all.Length - 1))]:0.0} | {all[^1]:0.0} | {withWeak.Count(t => t.Second.WeakestRight)}/{withWeak.Length} | {outcomes.Min(o => o.SoundLow):0} | {trials.Length - read} | {outcomes.Count(o => o.Refused is null && !o.Assigned)} | {Of(o => o.Heights).Average():0.0} | {Of(o => o.Torque).Average():0.0} | {Of(o => o.Templates).Average():0.0} |"));
        output.Flush();
    }
}
