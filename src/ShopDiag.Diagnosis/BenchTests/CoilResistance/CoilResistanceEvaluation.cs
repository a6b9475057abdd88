using System.Collections.Immutable;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests.CoilResistance;

/// <summary>Judges primary and secondary of each coil at 20 C; the worse of the two is the coil's outcome.</summary>
internal sealed class CoilResistanceEvaluation : ITestEvaluation
{
    /// <summary>Worst first. That one winding cannot be told weighs more than that the other is good.</summary>
    private static readonly ImmutableArray<string?> WorstFirst = ["open", "shorted", "out", null, "within"];

    /// <inheritdoc/>
    public string Name => "coil-resistance";

    /// <inheritdoc/>
    public IEnumerable<Finding> Evaluate(EvaluationInput input)
    {
        var primaries = new CoilWindings(input, "primary", Windings(input, "primaryOhm"));
        var secondaries = new CoilWindings(input, "secondary", Windings(input, "secondaryOhm"));
        foreach (var at in input.Readings.Keys)
        {
            ImmutableArray<Finding> sides = [.. new[] { primaries.Judge(at), secondaries.Judge(at) }.OfType<Finding>()];
            if (!sides.IsEmpty)
            {
                yield return Together(sides);
            }
        }
    }

    private static ImmutableArray<Winding> Windings(EvaluationInput input, string field) =>
        [.. input.Readings.Select(r => Winding.Of(r.Key, r.Value, field)).OfType<Winding>()];

    private static Finding Together(ImmutableArray<Finding> sides)
    {
        var worst = sides.MinBy(f => WorstFirst.IndexOf(f.Outcome))!;
        return worst with
        {
            // The primary is the one that every coil gives, so that the cells of the sheet can be compared.
            Measure = sides[0].Measure,
            Because = string.Join(" ", sides.Select(f => f.Because)),
            TrialsDisagree = sides.Any(f => f.TrialsDisagree),
            ByDefaultLimit = worst.Outcome == "within" ? sides.Any(f => f.ByDefaultLimit) : worst.ByDefaultLimit,
        };
    }
}
