using System.Collections.Immutable;
using ShopDiag.Diagnosis.Statistics;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests.SystemVoltage;

/// <summary>Compares the running voltage with the charging range and the drop over the engine's ground with what a sound joint loses.</summary>
internal sealed class SystemVoltageEvaluation : ITestEvaluation
{
    private const string Least = "system-voltage-min-v";
    private const string Most = "system-voltage-max-v";
    private const string Drop = "ground-drop-max-v";

    /// <inheritdoc/>
    public string Name => "system-voltage";

    /// <inheritdoc/>
    public IEnumerable<Finding> Evaluate(EvaluationInput input)
    {
        foreach (var (at, trials) in input.Readings)
        {
            if (trials.Numbers("volts") is { IsEmpty: false } volts)
            {
                yield return Judge(input, at, volts, trials.Numbers("groundDropVolts"));
            }
        }
    }

    private static Finding Judge(EvaluationInput input, Place at, ImmutableArray<double> volts, ImmutableArray<double> drops)
    {
        var charging = Robust.Median(volts);
        Finding Found(string? outcome, string because, string limit) =>
            input.Finding(at, outcome, because, charging) with { ByDefaultLimit = outcome is not null && !input.Limits.IsOwn(limit) };

        var most = input.Limits[Drop];
        if (Level(input, volts[0]) != Level(input, volts[^1]) || (!drops.IsEmpty && drops[0] <= most && drops[^1] > most))
        {
            return Found(null, $"The trials lie on both sides of a limit ({Words.Volts(volts[0])} to {Words.Volts(volts[^1])}{(drops.IsEmpty ? "" : $"; drop {Small(drops[0])} to {Small(drops[^1])}")}): take it again at a steady speed with the same loads on.", Least)
                with { TrialsDisagree = true };
        }

        var (level, rule, limit) = Level(input, charging);
        if (!drops.IsEmpty && Robust.Median(drops) > most)
        {
            return Found("poor-ground", $"{Small(Robust.Median(drops))} stand over the ground, more than {Small(most)} ({input.Whose(Drop)}). Running voltage {Words.Volts(charging)}: {rule}.", Drop);
        }

        var ground = drops.IsEmpty ? "the drop over the ground was not measured" : $"{Small(Robust.Median(drops))} over the ground, not more than {Small(most)} ({input.Whose(Drop)})";
        return Found(level, $"{Words.Volts(charging)}: {rule}; {ground}.", limit);
    }

    /// <summary>Good or low; null above the range, which is a fault of the charging that this test has no outcome for.</summary>
    private static (string? Outcome, string Rule, string Limit) Level(EvaluationInput input, double volts)
    {
        var (least, most) = (input.Limits[Least], input.Limits[Most]);
        return volts < least ? ("low", $"below {Words.Volts(least)} ({input.Whose(Least)})", Least)
            : volts > most ? (null, $"above {Words.Volts(most)} ({input.Whose(Most)}), so it overcharges: put the regulator right first, it upsets everything else", Most)
            : ("good", $"between {Words.Volts(least)} and {Words.Volts(most)} ({input.Whose(Least)})", Least);
    }

    private static string Small(double volts) => Words.Number(volts, 2) + " V";
}
