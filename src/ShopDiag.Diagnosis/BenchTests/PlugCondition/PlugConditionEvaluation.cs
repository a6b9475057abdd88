using System.Collections.Immutable;
using ShopDiag.Diagnosis.Quantities;
using ShopDiag.Diagnosis.Statistics;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests.PlugCondition;

/// <summary>The look is the outcome, but a plug that looks normal with too wide a gap is not normal. What stands in the well is an aspect of its own.</summary>
internal sealed class PlugConditionEvaluation : ITestEvaluation
{
    private const string Limit = "plug-gap-max-mm";

    /// <inheritdoc/>
    public string Name => "plug-condition";

    /// <inheritdoc/>
    public IEnumerable<Finding> Evaluate(EvaluationInput input) =>
    [
        .. GivenChoice.EachPlace(input, "look", (at, trials, look) => Judge(input, at, trials.Numbers("gapMm"), look)),
        .. Wells(input),
    ];

    private static IEnumerable<Finding> Wells(EvaluationInput input) =>
        GivenChoice.EachPlace(input, "well", (at, _, well) => input.Finding(at, well.Id, $"Plug well: {well.Label}.")).Select(f => f with { Aspect = "plug-well" });

    private static Finding Judge(EvaluationInput input, Place at, ImmutableArray<double> gaps, Choice look)
    {
        if (gaps.IsEmpty)
        {
            return input.Finding(at, look.Id, $"Look: {look.Label}; the gap was not measured.");
        }

        var gap = Robust.Median(gaps);
        var limit = input.Limits[Limit];
        if (look.Id != "normal")
        {
            return input.Finding(at, look.Id, $"Look: {look.Label}; gap {Words.Length(gap)}.", gap);
        }

        var rule = $"{Words.Length(limit)} ({input.Whose(Limit)})";
        var finding = gap > limit
            ? input.Finding(at, "gap-wide", $"Looks normal, but the gap of {Words.Length(gap)} is wider than {rule}; to spark under compression it takes about {Words.Number(UniformGap.InCylinderKilovolts(gap))} kV.", gap)
            : input.Finding(at, "normal", $"Looks normal; the gap of {Words.Length(gap)} is not wider than {rule}.", gap);
        return finding with { ByDefaultLimit = !input.Limits.IsOwn(Limit) };
    }
}
