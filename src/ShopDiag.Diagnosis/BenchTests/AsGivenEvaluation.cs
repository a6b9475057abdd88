using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests;

/// <summary>For tests whose only choice field is the outcome already.</summary>
internal sealed class AsGivenEvaluation : ITestEvaluation
{
    /// <inheritdoc/>
    public string Name => "as-given";

    /// <inheritdoc/>
    public IEnumerable<Finding> Evaluate(EvaluationInput input)
    {
        var field = input.Test.Fields.Single(f => f.Kind == FieldKind.Choice);
        return GivenChoice.EachPlace(input, field.Name, (at, _, choice) =>
            input.Finding(at, choice.Id, $"{field.Label}: {LowerFirst(choice.Label)}, as seen by the technician."));
    }

    // Within a sentence; an abbreviation stays as it is.
    private static string LowerFirst(string label) => label.Length > 1 && !char.IsUpper(label[1]) ? char.ToLowerInvariant(label[0]) + label[1..] : label;
}
