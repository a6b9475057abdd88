using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Causes;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.Diagnosis.Evidence;

/// <summary>
/// What each cause makes each aspect of a test show, as probabilities with the chance of a slip mixed in, so that no
/// outcome is ever impossible. Built once an assessment and looked up by index.
/// </summary>
internal sealed class OutcomeModel(Engine engine, Knowledge knowledge)
{
    private readonly Dictionary<(string Cause, string Aspect, Relation Where, PlaceKind At), RuleOutcome?> _rules = [];
    private readonly Dictionary<string, double[]> _healthy = [];

    /// <summary>What a sound engine shows on an aspect, in the order of its outcomes.</summary>
    public double[] Healthy(string aspect)
    {
        if (!_healthy.TryGetValue(aspect, out var healthy))
        {
            var (test, found) = Aspect(aspect);
            _healthy[aspect] = healthy = WithSlip(test, [.. found.Outcomes.Select(o => o.Healthy)]);
        }

        return healthy;
    }

    /// <summary>What the cause shows on an aspect at a place, or null when it is as on a sound engine.</summary>
    public RuleOutcome? Shown(Hypothesis hypothesis, string aspect, Place at) =>
        Shown(hypothesis.Cause, aspect, Relations.Of(engine, at, hypothesis.At), at.Kind);

    /// <summary>Index of an outcome within its aspect.</summary>
    public int IndexOf(string aspect, string outcome)
    {
        var outcomes = Aspect(aspect).Aspect.Outcomes;
        for (var i = 0; i < outcomes.Length; i++)
        {
            if (outcomes[i].Id == outcome)
            {
                return i;
            }
        }

        throw new InvalidOperationException($"The aspect '{aspect}' has no outcome '{outcome}'.");
    }

    private RuleOutcome? Shown(Cause cause, string aspect, Relation where, PlaceKind at)
    {
        var key = (cause.Id, aspect, where, at);
        if (!_rules.TryGetValue(key, out var shown))
        {
            var rule = cause.RuleFor(aspect, where, at, engine);
            _rules[key] = shown = rule is null ? null : new RuleOutcome(rule, Distribution(rule));
        }

        return shown;
    }

    private double[] Distribution(EvidenceRule rule)
    {
        var (test, aspect) = Aspect(rule.Aspect);
        return WithSlip(test, [.. aspect.Outcomes.Select(o => rule.Shows.GetValueOrDefault(o.Id))]);
    }

    private (BenchTest Test, Aspect Aspect) Aspect(string id) =>
        knowledge.Aspect(id) ?? throw new InvalidOperationException($"There is no aspect '{id}'.");

    private static double[] WithSlip(BenchTest test, double[] shown) =>
        [.. shown.Select(p => ((1 - test.Slip) * p) + (test.Slip / shown.Length))];
}

/// <summary>A rule with its probabilities, in the order of the aspect's outcomes, slip mixed in.</summary>
internal sealed record RuleOutcome(EvidenceRule Rule, double[] Shows);
