using ShopDiag.Diagnosis.Quantities;
using ShopDiag.Diagnosis.Statistics;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests.ManifoldVacuum;

/// <summary>The needle's movement decides; where it is steady, the level against the least at this height above the sea.</summary>
internal sealed class ManifoldVacuumEvaluation : ITestEvaluation
{
    private const string Least = "vacuum-min-kpa";

    /// <inheritdoc/>
    public string Name => "manifold-vacuum";

    /// <inheritdoc/>
    public IEnumerable<Finding> Evaluate(EvaluationInput input) => GivenChoice.EachPlace(input, "needle", (at, trials, needle) =>
    {
        var vacuum = trials.Numbers("kPa") is { IsEmpty: false } all ? Robust.Median(all) : (double?)null;
        var level = vacuum is { } v ? $"{Words.Vacuum(v)}, " : "";
        if (needle.Id != "steady")
        {
            return input.Finding(at, needle.Id, $"{level}needle: {needle.Label.ToLowerInvariant()}.", vacuum);
        }

        // The gauge reads against the air outside: at height there is less of it to read against.
        var least = input.Limits[Least] - ((StandardAtmosphere.SeaLevelPascals - StandardAtmosphere.Pascals(input.Shop.AltitudeMetres)) / 1000);
        var low = vacuum < least;
        return input.Finding(at, low ? "low-steady" : "normal", $"{level}steady; at least {Words.Vacuum(least)} is normal here ({input.Whose(Least)}).", vacuum)
            with { ByDefaultLimit = !input.Limits.IsOwn(Least) };
    });
}
