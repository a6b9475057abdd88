using System.Collections.Immutable;
using ShopDiag.Diagnosis.Quantities;
using ShopDiag.Diagnosis.Statistics;

namespace ShopDiag.Diagnosis.BenchTests;

/// <summary>
/// One winding's resistance at 20 C in ohm, as the median of its trials, and the lowest and highest of them. Trials without a
/// temperature are taken as at 20 C.
/// </summary>
internal sealed record Winding(Place At, double Ohm, double Lowest, double Highest, bool TemperatureKnown)
{
    /// <summary>The winding that a field gives; null where no trial has it.</summary>
    public static Winding? Of(Place at, ImmutableArray<Reading> trials, string field)
    {
        Reading[] measured = [.. trials.Where(t => t.Value.Number(field) is not null)];
        double[] ohms = [.. measured.Select(t => Copper.At20(t.Value.Number(field)!.Value, t.Value.Number("celsius") ?? 20)).Order()];
        return ohms.Length == 0
            ? null
            : new(at, Robust.Median(ohms), ohms[0], ohms[^1], measured.All(t => t.Value.Number("celsius") is not null));
    }

    /// <summary>The resistance as a reason says it, with the temperature it stands for.</summary>
    public string InWords() => $"{Words.Ohm(Ohm)}{(TemperatureKnown ? " at 20 °C (68 °F)" : ", taken as at 20 °C (68 °F) since no temperature was noted")}";
}
