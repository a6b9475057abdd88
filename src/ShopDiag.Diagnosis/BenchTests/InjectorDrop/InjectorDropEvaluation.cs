using System.Collections.Immutable;
using ShopDiag.Diagnosis.Statistics;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests.InjectorDrop;

/// <summary>
/// GM's rule: each drop within the limit of the average of all (Pontiac 2007 Vibe and others). One extreme injector pulls that
/// average so far that sound ones can fall out of the window; where they lie close to the others' middle, nothing is said against them.
/// </summary>
internal sealed class InjectorDropEvaluation : ITestEvaluation
{
    /// <inheritdoc/>
    public string Name => "injector-drop";

    /// <inheritdoc/>
    public IEnumerable<Finding> Evaluate(EvaluationInput input)
    {
        var run = input.Readings.Select(r => PulseDrop.Of(r.Key, r.Value)).OfType<PulseDrop>().ToImmutableArray();
        return run.IsEmpty ? [] : [.. run.Select(new DropJudge(input, run).Judge)];
    }
}

/// <summary>How far one pulse lets the rail pressure fall, in kilopascal: the median of its trials, the least and the most of them.</summary>
internal sealed record PulseDrop(Place At, double Start, double KPa, double Least, double Most)
{
    public static PulseDrop? Of(Place at, ImmutableArray<Reading> trials)
    {
        Reading[] whole = [.. trials.Where(t => t.Value.Number("startKPa") is not null && t.Value.Number("endKPa") is not null)];
        double[] drops = [.. whole.Select(t => t.Value.Number("startKPa")!.Value - t.Value.Number("endKPa")!.Value).Order()];
        return drops.Length == 0 ? null : new(at, Robust.Median(whole.Select(t => t.Value.Number("startKPa")!.Value)), Robust.Median(drops), drops[0], drops[^1]);
    }
}
