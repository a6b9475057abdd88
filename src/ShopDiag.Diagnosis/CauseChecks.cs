using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Causes;

namespace ShopDiag.Diagnosis;

/// <summary>Checks that one cause holds together: texts, rules, proofs, repair.</summary>
internal static class CauseChecks
{
    private const double Tolerance = 1e-9;

    /// <summary>What sleeps more often than this is hardly ever found at all.</summary>
    private const double MostSleep = 0.6;

    public static void Check(Knowledge knowledge, Cause cause)
    {
        var where = $"cause '{cause.Id}'";
        KnowledgeChecks.RequireText(
            where, ("title", cause.Title), ("ifLeft", cause.IfLeft), ("forCustomer", cause.ForCustomer), ("source", cause.Source), ("repair.summary", cause.Repair.Summary));
        KnowledgeChecks.Require(cause.Weight > 0, $"{where}: the weight must be above 0");
        KnowledgeChecks.Require(cause.Sleeps is >= 0 and <= MostSleep, $"{where}: 'sleeps' must be from 0 to {MostSleep}");
        KnowledgeChecks.Require(cause.AlsoMends.All(id => knowledge.Cause(id) is not null), $"{where}: 'alsoMends' names a cause that does not exist");
        KnowledgeChecks.Require(cause.Slight is >= 0 and < 1, $"{where}: 'slight' must be from 0 to below 1");
        KnowledgeChecks.Require(cause.Shows.All(r => r.Slight is null or (>= 0 and < 1)), $"{where}: 'slight' of a rule must be from 0 to below 1");
        KnowledgeChecks.Require(
            (cause.Slight == 0 && cause.Shows.All(r => r.Slight is null or 0)) || cause.Scope is CauseScope.Bank or CauseScope.Engine, $"{where}: 'slight' is for what a bank or the engine shares");
        CheckRules(knowledge, where, cause);
        foreach (var proof in cause.Proof)
        {
            KnowledgeChecks.RequireText(where, ("says", proof.Says));
            KnowledgeChecks.Require(!proof.All.IsEmpty, $"{where}: a proof names no reading");
            KnowledgeChecks.CheckOutcomes(knowledge, where, proof.All.Concat(proof.Unless));
            KnowledgeChecks.Require(
                proof.All.All(c => c.AtLeast == 0 || IsOfManyCylinders(knowledge, cause, c)) && proof.Unless.All(c => c.AtLeast == 0),
                $"{where}: 'atLeast' is 2 or more, and for a proof's reading of cylinders where a bank or the engine shares the cause");
        }

        KnowledgeChecks.Require(cause.Repair.LabourMinutes >= 0, $"{where}: labour below 0");
        KnowledgeChecks.Require(cause.Repair.Check.All(id => knowledge.Test(id) is not null), $"{where}: a check names a test that does not exist");
    }

    private static bool IsOfManyCylinders(Knowledge knowledge, Cause cause, OutcomeAt condition) =>
        condition is { AtLeast: >= 2, Where: Relation.Here } && cause.Scope is (CauseScope.Bank or CauseScope.Engine) && knowledge.Aspect(condition.Test)!.Value is { Test.AlsoScopes.IsEmpty: true, Aspect.Scope: TestScope.Cylinder };

    private static void CheckRules(Knowledge knowledge, string where, Cause cause)
    {
        for (var i = 0; i < cause.Shows.Length; i++)
        {
            var rule = cause.Shows[i];
            CheckRule(knowledge, where, rule);
            KnowledgeChecks.Require(
                !cause.Shows.Take(i).Any(earlier => earlier.Covers(rule)), $"{where}: a second rule for '{rule.Aspect}' {rule.Where} would never be read");
        }
    }

    private static void CheckRule(Knowledge knowledge, string where, EvidenceRule rule)
    {
        var aspect = knowledge.Aspect(rule.Aspect)?.Aspect
            ?? throw new InvalidOperationException($"Knowledge: {where}: there is no aspect '{rule.Aspect}'.");
        KnowledgeChecks.RequireText($"{where}, '{rule.Aspect}' {rule.Where}", ("because", rule.Because), ("against", rule.Against), ("source", rule.Source));
        KnowledgeChecks.Require(
            rule.Shows.Keys.All(o => aspect.Outcomes.Any(a => a.Id == o)), $"{where}: '{rule.Aspect}' has no such outcome as one of {string.Join(", ", rule.Shows.Keys)}");
        KnowledgeChecks.Require(
            rule.Shows.Values.All(p => p >= 0) && Math.Abs(rule.Shows.Values.Sum() - 1) < Tolerance, $"{where}: the probabilities for '{rule.Aspect}' {rule.Where} do not add up to 1");
    }
}
