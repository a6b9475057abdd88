using ShopDiag.Diagnosis.Quantities;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests.CoilResistance;

/// <summary>
/// Corrects the windings to 20 C and judges them by the maker's figures where those are given, else beside the other coils: makes differ too much for a general
/// range to say more than open or shorted.
/// </summary>
internal sealed class CoilResistanceEvaluation : ITestEvaluation
{
    private const string Spread = "coil-spread-percent";

    /// <inheritdoc/>
    public string Name => "coil-resistance";

    /// <inheritdoc/>
    public IEnumerable<Finding> Evaluate(EvaluationInput input)
    {
        var (primary, secondary) = (At20(input, "primaryOhm"), At20(input, "secondaryOhm"));
        foreach (var at in input.Readings.Keys)
        {
            var windings = new[]
            {
                Judge(input, primary, at, "Primary", "coil-min-ohm", "coil-max-ohm", "coil-open-ohm", "coil-short-ohm"),
                Judge(input, secondary, at, "Secondary", "coil-secondary-min-ohm", "coil-secondary-max-ohm", "coil-secondary-open-ohm", null),
            }.OfType<(string? Outcome, string Because, double Ohm, bool General)>().ToArray();
            if (windings.Length > 0)
            {
                // The worse winding decides; one that cannot be judged does not clear the coil.
                var worst = windings.OrderBy(w => w.Outcome switch { "within" => 2, null => 1, _ => 0 }).First();
                yield return input.Finding(at, worst.Outcome, string.Join(" ", windings.Select(w => w.Because)), windings[0].Ohm) with { ByDefaultLimit = worst.General };
            }
        }
    }

    private static Beside At20(EvaluationInput input, string field) =>
        new(input, t => t.Value.Number(field) is { } ohm ? Copper.At20(ohm, t.Value.Number("celsius") ?? 20) : null);

    private static (string? Outcome, string Because, double Ohm, bool General)? Judge(
        EvaluationInput input, Beside windings, Place at, string name, string least, string most, string open, string? shorted)
    {
        if (windings.At(at) is not { } ohm)
        {
            return null;
        }

        var (says, limits) = ($"{name} {Words.Ohm(ohm)} at 20 °C (68 °F)", input.Limits);
        if (ohm >= limits[open])
        {
            return ("open", $"{says}: from {Words.Ohm(limits[open])} it is open.", ohm, !limits.IsOwn(open));
        }

        if (shorted is not null && ohm < limits[shorted])
        {
            return ("shorted", $"{says}: below {Words.Ohm(limits[shorted])} it is shorted.", ohm, !limits.IsOwn(shorted));
        }

        var inRange = ohm >= limits[least] && ohm <= limits[most];
        var range = $"{Words.Ohm(limits[least])} to {Words.Ohm(limits[most])} ({input.Whose(least)})";
        if (limits.IsOwn(least) || limits.IsOwn(most))
        {
            return (inRange ? "within" : "out", $"{says}: {(inRange ? "between" : "outside")} {range}.", ohm, false);
        }

        if (windings.OtherCount(at) >= 2)
        {
            var others = windings.Others(at)!.Value;
            var apart = Math.Abs(ohm - others) > others * limits[Spread] / 100;
            return (apart ? "out" : "within", $"{says}: the middle of the other coils is {Words.Ohm(others)}; more than {Words.Percent(limits[Spread])} away is out.", ohm, !limits.IsOwn(Spread));
        }

        return inRange
            ? ("within", $"{says}: between {range}.", ohm, true)
            : (null, $"{says}: outside {range}, but makes differ. Measure the other coils, or enter the maker's figures.", ohm, true);
    }
}
