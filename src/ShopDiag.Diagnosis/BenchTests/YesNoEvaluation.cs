using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests;

/// <summary>For tests answered by yes or no: yes comes to the first outcome, no to the second.</summary>
internal sealed class YesNoEvaluation : ITestEvaluation
{
    /// <inheritdoc/>
    public string Name => "yes-no";

    /// <inheritdoc/>
    public IEnumerable<Finding> Evaluate(EvaluationInput input)
    {
        var (field, outcomes) = (input.Test.Fields.Single(f => f.Kind == FieldKind.Choice), input.Test.Aspects.Single().Outcomes);
        return GivenChoice.EachPlace(input, field.Name, (at, _, choice) =>
            input.Finding(at, outcomes[choice.Id == "yes" ? 0 : 1].Id, $"{field.Label}: {choice.Label.ToLowerInvariant()}."));
    }
}
