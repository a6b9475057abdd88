using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests.InjectorDrop;

/// <summary>
/// Compares the drops of rail pressure: GM's rule is that each lies within a limit of the average. One injector that is far out pulls the average along, so a drop
/// counts as out only where it is also that far from the middle of the others.
/// </summary>
internal sealed class InjectorDropEvaluation : ITestEvaluation
{
    private const string Limit = "injector-drop-kpa";

    /// <inheritdoc/>
    public string Name => "injector-drop";

    /// <inheritdoc/>
    public IEnumerable<Finding> Evaluate(EvaluationInput input)
    {
        var drops = new Beside(input, t => t.Value.Number("startKPa") - t.Value.Number("endKPa"));
        return drops.Values.Select(d => Judge(input, drops, d.At, d.Value)).ToList();
    }

    private static Finding Judge(EvaluationInput input, Beside drops, Place at, double drop)
    {
        var limit = input.Limits[Limit];
        if (drop < 0)
        {
            return input.Finding(at, null, $"The pressure rose by {Words.Pressure(-drop)}: the two readings may be exchanged, or the pump still ran. Take it again.", drop);
        }

        if (drops.OtherCount(at) < 2)
        {
            return input.Finding(at, null, $"Dropped {Words.Pressure(drop)}; with fewer than three injectors measured there is nothing to compare it with.", drop);
        }

        var (average, others) = (drops.Average, drops.Others(at)!.Value);
        var rule = $"Dropped {Words.Pressure(drop)}; average {Words.Pressure(average)}, limit {Words.Pressure(limit)} either way ({input.Whose(Limit)}), middle of the others {Words.Pressure(others)}";
        var outcome = drop < average - limit && drop < others - limit ? "low-delivery"
            : drop > average + limit && drop > others + limit ? "high-delivery"
            : "even";
        return input.Finding(at, outcome, outcome switch
        {
            "low-delivery" => $"{rule}: it delivers too little.",
            "high-delivery" => $"{rule}: it delivers too much.",
            _ => $"{rule}: even.",
        }, drop) with { ByDefaultLimit = !input.Limits.IsOwn(Limit) };
    }
}
