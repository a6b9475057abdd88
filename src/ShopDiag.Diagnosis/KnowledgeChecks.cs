using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Causes;

namespace ShopDiag.Diagnosis;

/// <summary>Checks that the knowledge holds together: every name resolves, every distribution adds up to 1.</summary>
internal static class KnowledgeChecks
{
    private const double Tolerance = 1e-9;

    public static void Check(Knowledge knowledge)
    {
        foreach (var test in knowledge.Tests)
        {
            CheckTest(knowledge, test);
        }

        foreach (var cause in knowledge.Causes)
        {
            CheckCause(knowledge, cause);
        }

        foreach (var rule in knowledge.Contradictions)
        {
            CheckOutcomes(knowledge, $"contradiction '{rule.Id}'", rule.All);
            Require(knowledge.Test(rule.Retake) is not null, $"contradiction '{rule.Id}': there is no test '{rule.Retake}'");
        }
    }

    private static void CheckTest(Knowledge knowledge, BenchTest test)
    {
        var where = $"test '{test.Id}'";
        Require(!test.Aspects.IsEmpty, $"{where} has no aspects");
        CheckOutcomes(knowledge, where, test.Needs);
        foreach (var aspect in test.Aspects)
        {
            Require(aspect.Outcomes.All(o => o.Healthy > 0), $"{where}, aspect '{aspect.Id}': no outcome may be impossible on a sound engine");
            Require(Math.Abs(aspect.Outcomes.Sum(o => o.Healthy) - 1) < Tolerance, $"{where}, aspect '{aspect.Id}': the healthy probabilities do not add up to 1");
        }
    }

    private static void CheckCause(Knowledge knowledge, Cause cause)
    {
        var where = $"cause '{cause.Id}'";
        Require(cause.Weight > 0, $"{where}: the weight must be above 0");
        foreach (var rule in cause.Shows)
        {
            var aspect = knowledge.Aspect(rule.Aspect)?.Aspect
                ?? throw new InvalidOperationException($"{where}: there is no aspect '{rule.Aspect}'");
            Require(rule.Shows.Keys.All(o => aspect.Outcomes.Any(a => a.Id == o)), $"{where}: '{rule.Aspect}' has no such outcome as one of {string.Join(", ", rule.Shows.Keys)}");
            Require(rule.Shows.Values.All(p => p >= 0) && Math.Abs(rule.Shows.Values.Sum() - 1) < Tolerance, $"{where}: the probabilities for '{rule.Aspect}' {rule.Where} do not add up to 1");
        }

        foreach (var proof in cause.Proof)
        {
            CheckOutcomes(knowledge, where, proof.All);
        }

        Require(cause.Repair.Check.All(id => knowledge.Test(id) is not null), $"{where}: a check names a test that does not exist");
    }

    private static void CheckOutcomes(Knowledge knowledge, string where, IEnumerable<OutcomeAt> outcomes)
    {
        foreach (var outcome in outcomes)
        {
            var aspect = knowledge.Aspect(outcome.Test)?.Aspect
                ?? throw new InvalidOperationException($"{where}: there is no test or aspect '{outcome.Test}'");
            Require(outcome.Outcomes.All(o => aspect.Outcomes.Any(a => a.Id == o)), $"{where}: '{outcome.Test}' has no such outcome as one of {string.Join(", ", outcome.Outcomes)}");
        }
    }

    private static void Require(bool holds, string problem)
    {
        if (!holds)
        {
            throw new InvalidOperationException($"Knowledge: {problem}.");
        }
    }
}
