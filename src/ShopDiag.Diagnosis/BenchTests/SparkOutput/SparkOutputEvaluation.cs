using System.Collections.Immutable;
using ShopDiag.Diagnosis.Quantities;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests.SparkOutput;

/// <summary>
/// A steady spark is strong where the tester's gap asks for at least what a plug takes under compression; a spark that
/// fails at a gap no coil need jump says nothing.
/// </summary>
internal sealed class SparkOutputEvaluation : ITestEvaluation
{
    private const string Least = "spark-gap-least-mm";
    private const string Most = "spark-gap-most-mm";

    /// <inheritdoc/>
    public string Name => "spark-output";

    /// <inheritdoc/>
    public IEnumerable<Finding> Evaluate(EvaluationInput input) =>
        GivenChoice.EachPlace(input, "jumps", (at, trials, choice) => Judge(input, at, trials.Numbers("gapMm"), choice));

    private static Finding Judge(EvaluationInput input, Place at, ImmutableArray<double> gaps, Choice jumps)
    {
        // The widest gap that was jumped, or the narrowest that was not, tells most.
        double? gap = gaps.IsEmpty ? null : jumps.Id == "steady" ? gaps[^1] : gaps[0];
        var across = gap is { } mm ? $" across {Words.Length(mm)}, about {Words.Number(NeedleGap.Kilovolts(mm))} kV" : "; the gap was not noted";
        return jumps.Id switch
        {
            "steady" when gap < input.Limits[Least] => Found(null, $"Steady spark{across}: too little to prove it under compression. Set the gap to {Words.Length(input.Limits[Least])} or more and take it again.", Least),
            "steady" => Found("strong", $"Steady spark{across}.", Least),
            "weak" or "none" when gap > input.Limits[Most] => Found(null, $"{jumps.Label}{across}: a sound coil need not jump that. Set the gap below {Words.Length(input.Limits[Most])} and take it again.", Most),
            "weak" => Found("weak", $"Weak spark, or only at times{across}.", Most),
            "none" => Found("none", $"No spark{across}.", Most),
            _ => throw new InvalidOperationException($"Unknown spark {jumps.Id}."),
        };

        Finding Found(string? outcome, string because, string limit) =>
            input.Finding(at, outcome, because, gap) with { ByDefaultLimit = gap is not null && !input.Limits.IsOwn(limit) };
    }
}
