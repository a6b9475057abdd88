using System.Collections.Immutable;
using ShopDiag.Diagnosis.Statistics;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests.ExhaustBackpressure;

/// <summary>
/// Restricted when either speed is above its limit. Gauge pressures, so height changes nothing. A pressure that falls with speed is no exhaust's, and trials on
/// both sides of a limit are taken again.
/// </summary>
internal sealed class ExhaustBackpressureEvaluation : ITestEvaluation
{
    private const string Idle = "backpressure-idle-kpa";
    private const string Speed = "backpressure-2500-kpa";
    private const string Apart = "backpressure-trials-kpa";

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
                yield return Judge(input, at, idle, speed);
            }
        }
    }

    private static Finding Judge(EvaluationInput input, Place at, ImmutableArray<double> idles, ImmutableArray<double> speeds)
    {
        var (idle, speed, apart) = (Robust.Median(idles), Robust.Median(speeds), input.Limits[Apart]);
        var says = $"{Words.LowPressure(idle)} at idle, at most {Words.LowPressure(input.Limits[Idle])} ({input.Whose(Idle)}); {Words.LowPressure(speed)} at 2500 rpm, at most {Words.LowPressure(input.Limits[Speed])} ({input.Whose(Speed)})";
        if (BothSides(idles, input.Limits[Idle], apart) || BothSides(speeds, input.Limits[Speed], apart))
        {
            return input.Finding(at, null, $"{says}; the trials lie on both sides. Warm the exhaust through, see that the gauge is tight, and take it again.", speed) with { TrialsDisagree = true };
        }

        if (idle - speed > apart)
        {
            return input.Finding(at, null, $"{says}; but the pressure of an exhaust rises with speed. Let the hose cool, look for a kink or a loose fitting, and take it again.", speed);
        }

        var (atIdle, atSpeed) = (idle > input.Limits[Idle], speed > input.Limits[Speed]);
        return input.Finding(at, atIdle || atSpeed ? "restricted" : "good", $"{says}.", speed) with
        {
            ByDefaultLimit = (atIdle, atSpeed) switch
            {
                (_, true) => !input.Limits.IsOwn(Speed),
                (true, false) => !input.Limits.IsOwn(Idle),
                _ => !input.Limits.IsOwn(Idle) || !input.Limits.IsOwn(Speed),
            },
        };
    }

    private static bool BothSides(ImmutableArray<double> ascending, double limit, double apart) =>
        ascending[0] <= limit && ascending[^1] > limit && ascending[^1] - ascending[0] > apart;
}
