using System.Collections.Immutable;
using ShopDiag.Diagnosis.Quantities;
using ShopDiag.Diagnosis.Statistics;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests.InjectorResistance;

/// <summary>
/// Corrects each winding to 20 C and compares it with the limits and with the others. General limits give way to the
/// comparison where the other injectors plainly are of another make.
/// </summary>
internal sealed class InjectorResistanceEvaluation : ITestEvaluation
{
    /// <inheritdoc/>
    public string Name => "injector-resistance";

    /// <inheritdoc/>
    public IEnumerable<Finding> Evaluate(EvaluationInput input)
    {
        var windings = input.Readings.Select(r => Winding.Of(r.Key, r.Value)).OfType<Winding>().ToImmutableArray();
        return [.. windings.Select(new WindingJudge(input, windings).Judge)];
    }
}

/// <summary>One injector's winding: its resistance at 20 C in ohm, as the median of its trials, and the lowest and highest of them.</summary>
internal sealed record Winding(Place At, double Ohm, double Lowest, double Highest, bool TemperatureKnown)
{
    public static Winding? Of(Place at, ImmutableArray<Reading> trials)
    {
        double[] ohms = [.. trials
            .Where(t => t.Value.Number("ohm") is not null)
            .Select(t => Copper.At20(t.Value.Number("ohm")!.Value, t.Value.Number("celsius") ?? 20))
            .Order()];
        return ohms.Length == 0
            ? null
            : new(at, Robust.Median(ohms), ohms[0], ohms[^1], trials.All(t => t.Value.Number("celsius") is not null));
    }
}
