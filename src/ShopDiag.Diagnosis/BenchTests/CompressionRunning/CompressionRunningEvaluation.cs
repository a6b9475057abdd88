using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests.CompressionRunning;

/// <summary>
/// Compares idle and snap with the other cylinders where any were read, and with the rule of thumb where dry compression is known (idle about half of it, a snap
/// about four fifths); with neither, with a general least and, at idle, most. Too high at idle is named before what is low: gas that cannot leave hides what is low at a snap. Low at idle is named
/// before low at a snap: what leaks or does not fill shows at idle already, what cannot breathe only when much air should go in.
/// </summary>
internal sealed class CompressionRunningEvaluation : ITestEvaluation
{
    /// <inheritdoc/>
    public string Name => "compression-running";

    /// <inheritdoc/>
    public IEnumerable<Finding> Evaluate(EvaluationInput input)
    {
        var (idle, snap) = (new RunningSide(input, "idle"), new RunningSide(input, "snap"));
        return [.. idle.All.Values.Select(i => Judge(input, i.At, i.Value, idle.Judge(i.At)!, snap.Judge(i.At)))];
    }

    private const string DoesNotEmpty = " So high it does not empty: measure the exhaust valve's lift and the exhaust's back pressure.";

    private static Finding Judge(EvaluationInput input, Place at, double idleKPa, RunningJudgement idle, RunningJudgement? snap)
    {
        var says = $"At idle {idle.Words}; at a snap {snap?.Words ?? "not read"}.";
        Finding CannotTell(string what) => input.Finding(at, null, $"{says} {what}", idleKPa);
        Finding Found(string outcome, string remark = "") => input.Finding(at, outcome, says + remark, idleKPa) with { ByDefaultLimit = idle.General || snap is { General: true } };

        return (idle.Level, snap?.Level) switch
        {
            (RunningLevel.TrialsApart, _) or (_, RunningLevel.TrialsApart) =>
                CannotTell("The trials lie on both sides: bleed the gauge before each reading and take it again.") with { TrialsDisagree = true },
            (RunningLevel.High, _) => Found("high", DoesNotEmpty),
            (RunningLevel.Low, RunningLevel.Low) => Found("low-idle", " Low at both: it leaks or does not fill."),
            (RunningLevel.Low, _) => Found("low-idle"),
            (_, RunningLevel.Low) => Found("low-snap", " Right at idle and low when much air should go in: look at the intake valve's lift and at deposits."),
            (RunningLevel.LostInScatter, _) or (_, RunningLevel.LostInScatter) =>
                CannotTell("The other cylinders differ among themselves nearly as much: take them again at the same speed and with the same snap."),
            (_, RunningLevel.High) => Found("high", DoesNotEmpty),
            (_, RunningLevel.PerhapsHigh) => CannotTell("Either this cylinder does not empty or the others are low at a snap: read more of them."),
            (_, null) => Found("good", " Whether it breathes shows only at a snap."),
            _ => Found("good"),
        };
    }
}
