using System.Collections.Immutable;
using ShopDiag.Diagnosis.Quantities;
using ShopDiag.Diagnosis.Statistics;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests.ManifoldVacuum;

/// <summary>The needle's movement decides; where it stands still, the level against the least at this height above the sea.</summary>
internal sealed class ManifoldVacuumEvaluation : ITestEvaluation
{
    private const string Least = "vacuum-min-kpa";

    /// <inheritdoc/>
    public string Name => "manifold-vacuum";

    /// <summary>
    /// The least at a height in metres. The gauge reads against the air outside, and the engine takes the same pressure of air to idle anywhere, so the whole
    /// loss of the standard atmosphere (ISO 2533) is missing on the gauge: about 1 inHg for each 1000 ft. Never below 0.
    /// </summary>
    public static double AtAltitude(double seaLevelKPa, double metres) =>
        Math.Max(0, seaLevelKPa - ((StandardAtmosphere.SeaLevelPascals - StandardAtmosphere.Pascals(metres)) / 1000));

    /// <inheritdoc/>
    public IEnumerable<Finding> Evaluate(EvaluationInput input) =>
        GivenChoice.EachPlace(input, "needle", (at, trials, needle) => Judge(input, at, trials.Numbers("kPa"), needle));

    private static Finding Judge(EvaluationInput input, Place at, ImmutableArray<double> trials, Choice needle)
    {
        if (needle.Id is not ("steady" or "low-steady") || trials.IsEmpty)
        {
            var level = trials.IsEmpty ? "" : $"{Words.Vacuum(Robust.Median(trials))}, ";
            return input.Finding(at, needle.Id == "steady" ? "normal" : needle.Id, $"{level}needle: {needle.Label.ToLowerInvariant()}.", trials.IsEmpty ? null : Robust.Median(trials));
        }

        var (vacuum, least) = (Robust.Median(trials), AtAltitude(input.Limits[Least], input.Shop.AltitudeMetres));
        var rule = $"{Words.Vacuum(least)}, the least that is normal {Here(input)} ({input.Whose(Least)})";
        if (trials[0] < least && trials[^1] >= least && trials[^1] - trials[0] > input.Limits["vacuum-trials-kpa"])
        {
            return input.Finding(at, null, $"The trials lie between {Words.Vacuum(trials[0])} and {Words.Vacuum(trials[^1])}, on both sides of {rule}: warm the engine, see that the hose is tight and at the manifold itself, and take it again.", vacuum)
                with { TrialsDisagree = true };
        }

        var finding = (vacuum < least, needle.Id) switch
        {
            (true, _) => input.Finding(at, "low-steady", $"{Words.Vacuum(vacuum)} and steady, below {rule}.", vacuum),
            (false, "steady") => input.Finding(at, "normal", $"{Words.Vacuum(vacuum)} and steady, not below {rule}.", vacuum),
            _ => input.Finding(at, null, $"The needle is called low, but {Words.Vacuum(vacuum)} is not below {rule}: take the number again, or call the needle steady.", vacuum),
        };
        return finding with { ByDefaultLimit = !input.Limits.IsOwn(Least) };
    }

    private static string Here(EvaluationInput input) => input.Shop.AltitudeMetres == 0
        ? "at sea level"
        : $"at {Words.Number(input.Shop.AltitudeMetres)} m by the standard atmosphere";
}
