using ShopDiag.Diagnosis.Statistics;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests.SystemVoltage;

/// <summary>Compares the running voltage and the drop on the ground side with their limits; a poor ground is named before a low voltage.</summary>
internal sealed class SystemVoltageEvaluation : ITestEvaluation
{
    private const string Least = "system-voltage-min-v";
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
                yield return Judge(input, at, Robust.Median(volts), trials.Numbers("groundDropVolts") is { IsEmpty: false } drops ? Robust.Median(drops) : null);
            }
        }
    }

    private static Finding Judge(EvaluationInput input, Place at, double volts, double? drop)
    {
        var (least, most) = (input.Limits[Least], input.Limits[Drop]);
        if (drop > most)
        {
            return input.Finding(at, "poor-ground", $"The ground side loses {Words.Number(drop.Value, 2)} V, more than {Words.Number(most, 2)} V ({input.Whose(Drop)}).", volts)
                with { ByDefaultLimit = !input.Limits.IsOwn(Drop) };
        }

        var ground = drop is null ? "the ground was not measured" : $"ground drop {Words.Number(drop.Value, 2)} V";
        var because = volts < least
            ? $"{Words.Volts(volts)} running, below {Words.Volts(least)} ({input.Whose(Least)}); {ground}."
            : $"{Words.Volts(volts)} running, at or above {Words.Volts(least)} ({input.Whose(Least)}); {ground}.";
        return input.Finding(at, volts < least ? "low" : "good", because, volts) with { ByDefaultLimit = !input.Limits.IsOwn(Least) };
    }
}
