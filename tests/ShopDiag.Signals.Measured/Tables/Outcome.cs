using ShopDiag.Signals.Cancellations;
using ShopDiag.Signals.Measured.Engines;
using ShopDiag.Signals.Speed;

namespace ShopDiag.Signals.Measured.Tables;

/// <summary>How well one run, or several together, were heard.</summary>
internal sealed record Outcome
{
    /// <summary>Drops of at least this many rpm must be found; smaller ones may be.</summary>
    public const double LeastDrop = 20;

    /// <summary>Errors of the speed at each point, percent.</summary>
    public required double[] Errors { get; init; }

    public required int Drops { get; init; }

    public required int Found { get; init; }

    public required int False { get; init; }

    /// <summary>Error of each drop that was found and offered, rpm.</summary>
    public required double[] DropErrors { get; init; }

    /// <summary>Error of each drop that was found, offered or not, rpm.</summary>
    public double[] FoundErrors { get; init; } = [];

    /// <summary>Drops that were found and not offered: to be taken again, with the reason.</summary>
    public int TakenAgain { get; init; }

    public double Median => Errors.Order().ElementAt(Errors.Length / 2);

    public double At95 => Errors.Order().ElementAt((int)(0.95 * (Errors.Length - 1)));

    public double GrossPercent => 100.0 * Errors.Count(e => e > 10) / Errors.Length;

    public double DropError => DropErrors.Length == 0 ? double.NaN : DropErrors.Average();

    public double FoundError => FoundErrors.Length == 0 ? double.NaN : FoundErrors.Average();

    public static Outcome Of(Trial trial)
    {
        var run = trial.Run();
        var trace = SoundSpeed.Follow(trial.Sound(run), trial.Rate, trial.Engine);
        return Of(trial.Plan, run, trace);
    }

    /// <summary>Compares a trace and what is found in it with what is true.</summary>
    public static Outcome Of(EnginePlan plan, CrankRun run, SpeedTrace trace)
    {
        var heard = CancellationFinder.Find(trace, new() { Cylinders = plan.Cylinders }).Drops.Where(d => d.Kind == DropKind.Heard).ToList();
        var (drops, found, again, errors, foundErrors) = (0, 0, 0, new List<double>(), new List<double>());
        foreach (var held in plan.Held)
        {
            var truth = TrueDrop(run, held);
            var match = heard.FirstOrDefault(d => Math.Abs(d.Start - held.From) < 1);
            drops += truth >= LeastDrop ? 1 : 0;
            if (match is not null)
            {
                found += truth >= LeastDrop ? 1 : 0;
                heard.Remove(match);
                foundErrors.Add(Math.Abs(match.Drop - truth));
                if (match.Problem is null)
                {
                    errors.Add(Math.Abs(match.Drop - truth));
                }
                else
                {
                    again++;
                }
            }
        }

        return new()
        {
            Errors = [.. trace.Points.Select(p => 100 * Math.Abs((p.Rpm / run.Rpm(p.Seconds)) - 1))],
            Drops = drops, Found = found, False = heard.Count, TakenAgain = again, DropErrors = [.. errors], FoundErrors = [.. foundErrors],
        };
    }

    /// <summary>The drop by the same definition that the finder uses, from the true motion.</summary>
    public static double TrueDrop(CrankRun run, Held held)
    {
        var lowest = double.MaxValue;
        for (var t = held.From + 0.7; t + 1 <= held.To - 0.1; t += 0.05)
        {
            lowest = Math.Min(lowest, run.MeanRpm(t, t + 1));
        }

        return run.MeanRpm(held.From - 2, held.From - 0.1) - lowest;
    }

    public static Outcome Together(IReadOnlyCollection<Outcome> all) => new()
    {
        Errors = [.. all.SelectMany(o => o.Errors)],
        Drops = all.Sum(o => o.Drops),
        Found = all.Sum(o => o.Found),
        False = all.Sum(o => o.False),
        TakenAgain = all.Sum(o => o.TakenAgain),
        DropErrors = [.. all.SelectMany(o => o.DropErrors)],
        FoundErrors = [.. all.SelectMany(o => o.FoundErrors)],
    };
}
