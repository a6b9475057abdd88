using System.Collections.Immutable;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests;

/// <summary>
/// Tells whether the misfire went with the part that was exchanged, stayed, or went away. Swaps with several cylinders must agree.
/// </summary>
/// <param name="test">The test's id, which is also the evaluation's name.</param>
/// <param name="part">The part in lower case: <c>coil</c>, <c>injector</c>.</param>
/// <param name="perhaps">What may have been put right by moving it, when the misfire went away.</param>
/// <param name="isCoil">True for the coil, which may serve two cylinders.</param>
internal sealed class SwapEvaluation(string test, string part, string perhaps, bool isCoil = false) : ITestEvaluation
{
    private const string With = "swappedWith";
    private const string MovedTo = "misfireMovedTo";
    private const string Gone = "gone";

    /// <inheritdoc/>
    public string Name => test;

    private string Part => char.ToUpperInvariant(part[0]) + part[1..];

    /// <inheritdoc/>
    public IEnumerable<Finding> Evaluate(EvaluationInput input) =>
        input.Readings.Where(r => r.Value.Any(IsComplete)).Select(r => Judge(input, r.Key, r.Value)).ToList();

    private static bool IsComplete(Reading reading) => reading.Value.Number(With) is not null && reading.Value.Has(MovedTo);

    private Finding Judge(EvaluationInput input, Place at, ImmutableArray<Reading> trials)
    {
        var swaps = trials.Where(IsComplete)
            .Select(t => Outcome(input.Engine, at.First, (int)t.Value.Number(With)!.Value, (int?)t.Value.Number(MovedTo)))
            .Distinct()
            .OrderBy(s => s.Because, StringComparer.Ordinal)
            .ToImmutableArray();
        // A run in which the misfire did not come back tells less than one in which it did.
        swaps = swaps.Any(s => s.Outcome is not (null or Gone)) ? [.. swaps.Where(s => s.Outcome != Gone)] : swaps;
        return swaps.DistinctBy(s => s.Outcome).Count() > 1
            ? GivenChoice.Differ(input, at, swaps.Select(s => s.Because.TrimEnd('.')))
            : input.Finding(at, swaps[0].Outcome, string.Join(" ", swaps.Select(s => s.Because)));
    }

    private (string? Outcome, string Because) Outcome(Engine engine, int own, int with, int? movedTo)
    {
        var swap = $"{Part} swapped with cylinder {Words.Number(with)}";
        if (AreOne(engine, own, with))
        {
            return (null, $"Cylinders {Words.Number(own)} and {Words.Number(with)} share one {part}: nothing was exchanged. Swap with a cylinder of another {part}.");
        }

        return movedTo switch
        {
            null => (Gone, $"{swap}: the misfire went away, perhaps {perhaps}. Run it longer before trusting it."),
            _ when movedTo == with || AreOne(engine, with, movedTo) => ("follows", $"{swap}: the misfire moved there with the {part}."),
            _ when movedTo == own || AreOne(engine, own, movedTo) => ("stays", $"{swap}: the misfire stayed on cylinder {Words.Number(own)}, so it is not the {part}."),
            _ => (null, $"{swap}: the misfire is now on cylinder {Words.Number(movedTo.Value)}, which had no part in the swap. Put the {part}s back and see where it misfires then."),
        };
    }

    // A coil that fires two cylinders takes both along.
    private bool AreOne(Engine engine, int one, int? other) => isCoil && engine.Ignition == Ignition.WasteSpark && other is not null && engine.Companion(one) == other;
}
