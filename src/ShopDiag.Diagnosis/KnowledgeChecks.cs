using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;

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
            CauseChecks.Check(knowledge, cause);
        }

        foreach (var rule in knowledge.Contradictions)
        {
            CheckContradiction(knowledge, rule);
        }

        foreach (var profile in knowledge.Profiles)
        {
            RequireText($"engine profile '{profile.Id}'", ("id", profile.Id), ("title", profile.Title), ("source", profile.Source));
            var error = Engine.Create(profile.Spec).Error;
            Require(error is null, $"engine profile '{profile.Id}': {error}");
        }

        CheckAfterRepair(knowledge);
        RequireUnique("engine profile", knowledge.Profiles.Select(p => p.Id));
        RequireUnique("contradiction", knowledge.Contradictions.Select(c => c.Id));
    }

    private static void CheckAfterRepair(Knowledge knowledge)
    {
        const string Where = "after repair";
        var (after, parts) = (knowledge.AfterRepair, knowledge.Causes.SelectMany(c => c.Repair.Parts).Select(p => p.Part).ToHashSet(StringComparer.Ordinal));
        RequireText(Where, ("newPart.because", after.NewPart.Because), ("mended.because", after.Mended.Because), ("source", after.Source));
        Require(after.NewPart.Times is > 0 and <= 1 && after.Mended.Times is > 0 and <= 1, $"{Where}: what is new is no likelier than before, and never impossible");
        RequireUnique("part of the rules after a repair", after.Rules.SelectMany(r => r.Fitted));
        foreach (var rule in after.Rules)
        {
            var where = $"{Where}, '{string.Join(", ", rule.Fitted)}'";
            RequireText(where, ("look", rule.Look), ("source", rule.Source));
            Require(rule.Fitted.All(parts.Contains), $"{where}: no repair fits one of these parts");
            RequireUnique($"cause in {where}", rule.Causes.Select(c => c.Cause));
            foreach (var cause in rule.Causes)
            {
                RequireText($"{where}, '{cause.Cause}'", ("because", cause.Because));
                Require(knowledge.Cause(cause.Cause) is not null, $"{where}: there is no cause '{cause.Cause}'");
                Require(cause.Times is > 0 and <= 20, $"{where}, '{cause.Cause}': 'times' must be above 0 and at most 20");
            }
        }
    }

    private static void CheckTest(Knowledge knowledge, BenchTest test)
    {
        var where = $"test '{test.Id}'";
        Require(!test.Aspects.IsEmpty, $"{where} has no aspects");
        Require(
            test.CompareWith == 0 || (test.CompareWith >= 2 && test.Compares && test.Scope == TestScope.Cylinder),
            $"{where}: 'compareWith' is for a test that compares cylinders, and with two others at least: of two it cannot be told which is wrong");
        CheckOutcomes(knowledge, where, test.Needs);
        CheckOutcomes(knowledge, where, test.PointlessAfter);
        foreach (var aspect in test.Aspects)
        {
            Require(aspect.Outcomes.All(o => o.Healthy > 0), $"{where}, aspect '{aspect.Id}': no outcome may be impossible on a sound engine");
            Require(Math.Abs(aspect.Outcomes.Sum(o => o.Healthy) - 1) < Tolerance, $"{where}, aspect '{aspect.Id}': the healthy probabilities do not add up to 1");
        }
    }

    private static void CheckContradiction(Knowledge knowledge, ContradictionRule rule)
    {
        var where = $"contradiction '{rule.Id}'";
        RequireText(where, ("because", rule.Because), ("source", rule.Source));
        CheckOutcomes(knowledge, where, rule.All);
        Require(rule.All.Length >= 2 && rule.All.All(c => c.Where == Relation.Here), $"{where}: it takes two or more findings at one and the same place");
        Require(knowledge.Test(rule.Retake) is not null, $"{where}: there is no test '{rule.Retake}'");
    }

    /// <summary>Every outcome that is named must exist.</summary>
    public static void CheckOutcomes(Knowledge knowledge, string where, IEnumerable<OutcomeAt> outcomes)
    {
        foreach (var outcome in outcomes)
        {
            var aspect = knowledge.Aspect(outcome.Test)?.Aspect
                ?? throw new InvalidOperationException($"{where}: there is no test or aspect '{outcome.Test}'");
            Require(outcome.Outcomes.All(o => aspect.Outcomes.Any(a => a.Id == o)), $"{where}: '{outcome.Test}' has no such outcome as one of {string.Join(", ", outcome.Outcomes)}");
        }
    }

    /// <summary>Every text must be there.</summary>
    public static void RequireText(string where, params (string Name, string Text)[] texts)
    {
        foreach (var (name, text) in texts)
        {
            Require(!string.IsNullOrWhiteSpace(text), $"{where}: '{name}' is empty");
        }
    }

    /// <summary>Throws and names the problem unless it holds.</summary>
    public static void Require(bool holds, string problem)
    {
        if (!holds)
        {
            throw new InvalidOperationException($"Knowledge: {problem}.");
        }
    }

    private static void RequireUnique(string kind, IEnumerable<string> ids)
    {
        var twice = ids.GroupBy(id => id, StringComparer.Ordinal).FirstOrDefault(g => g.Count() > 1)?.Key;
        Require(twice is null, $"{kind} '{twice}' is there twice");
    }
}
