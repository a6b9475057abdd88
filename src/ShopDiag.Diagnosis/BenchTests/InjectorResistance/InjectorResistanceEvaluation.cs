using System.Collections.Immutable;
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
        var windings = input.Readings.Select(r => Winding.Of(r.Key, r.Value, "ohm")).OfType<Winding>().ToImmutableArray();
        return [.. windings.Select(new WindingJudge(input, windings).Judge)];
    }
}
