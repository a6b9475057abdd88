using ShopDiag.Diagnosis.Statistics;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests.ExhaustBackpressure;

/// <summary>Restricted when either speed is above its limit.</summary>
internal sealed class ExhaustBackpressureEvaluation : ITestEvaluation
{
    private const string Idle = "backpressure-idle-kpa";
    private const string Speed = "backpressure-2500-kpa";

    /// <inheritdoc/>
    public string Name => "exhaust-backpressure";

    /// <inheritdoc/>
    public IEnumerable<Finding> Evaluate(EvaluationInput input)
    {
        foreach (var (at, trials) in input.Readings)
        {
            var (idle, speed) = (trials.Numbers("kPaAtIdle"), trials.Numbers("kPaAt2500"));
            if (!idle.IsEmpty && !speed.IsEmpty)
            {
                yield return Judge(input, at, Robust.Median(idle), Robust.Median(speed));
            }
        }
    }

    private static Finding Judge(EvaluationInput input, Place at, double idle, double speed)
    {
        var restricted = idle > input.Limits[Idle] || speed > input.Limits[Speed];
        var because = $"{Words.Number(idle, 1)} kPa at idle and {Words.Number(speed, 1)} kPa at 2500 rpm; at most {Words.Number(input.Limits[Idle], 1)} and {Words.Number(input.Limits[Speed], 1)} kPa ({input.Whose(Speed)}).";
        return input.Finding(at, restricted ? "restricted" : "good", because, speed) with { ByDefaultLimit = !input.Limits.IsOwn(Speed) };
    }
}
