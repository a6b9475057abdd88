using System.Collections.Immutable;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.Evidence;

/// <summary>
/// The exact posterior over every single fault and every pair of faults, by Bayes' rule. No sampling: the sets are counted out.
/// </summary>
/// <remarks>
/// A finding that no rule speaks of is as on a sound engine and moves nothing. Two faults that both speak of one finding are
/// combined log-linearly over what a sound engine shows, p(o) ~ a(o)*b(o)/healthy(o): symmetric, and a fault that shows
/// nothing there leaves the other's distribution as it is.
/// </remarks>
internal sealed class Belief
{
    /// <summary>
    /// Prior of two given faults together is this factor times the product of their priors, which puts about one car in twenty
    /// on two faults at once. Common practice: no published figure exists.
    /// </summary>
    public const double PairFactor = 0.12;

    private readonly Seen[] _seen;
    private readonly RuleOutcome?[][] _shown;
    private readonly double[] _bits;
    private double[] _marginal = [];

    private Belief(Engine engine, Knowledge knowledge, IEnumerable<Finding> findings, IReadOnlySet<(string, Place)> repaired)
    {
        Model = new OutcomeModel(engine, knowledge);
        Hypotheses = Hypothesis.For(engine, knowledge, repaired);
        _seen = [.. findings.Where(f => f.Outcome is not null).Select(f => new Seen(f, Model.IndexOf(f.Aspect, f.Outcome!), Model.Healthy(f.Aspect)))];
        _shown = [.. Hypotheses.Select(h => _seen.Select(s => Model.Shown(h, s.Finding.Aspect, s.Finding.At)).ToArray())];
        _bits = [.. Hypotheses.Select((_, h) => Enumerable.Range(0, _seen.Length).Sum(s => EffectBits(h, s)))];
        Sets = Posterior();
    }

    /// <summary>Every cause at every place.</summary>
    public Hypothesis[] Hypotheses { get; }

    /// <summary>Every single fault and every pair with its posterior, which add up to 1; most likely first.</summary>
    public ImmutableArray<FaultSet> Sets { get; }

    /// <summary>What each cause shows on each aspect.</summary>
    public OutcomeModel Model { get; }

    /// <summary>Works the posterior out from the findings that came to an outcome.</summary>
    public static Belief From(
        Engine engine, Knowledge knowledge, IEnumerable<Finding> findings, IReadOnlySet<(string Cause, Place At)> repaired) =>
        new(engine, knowledge, findings, repaired);

    /// <summary>Posterior of a hypothesis, alone or as half of a pair.</summary>
    public double Probability(int hypothesis) => _marginal[hypothesis];

    /// <summary>What each finding does to a hypothesis against a sound engine, strongest first; findings that do nothing are left out.</summary>
    public ImmutableArray<Effect> Effects(int hypothesis) =>
    [
        .. Enumerable.Range(0, _seen.Length)
            .Where(s => _shown[hypothesis][s] is not null)
            .Select(s => EffectOf(hypothesis, s))
            .Where(e => Math.Abs(e.Bits) >= 0.005)
            .OrderByDescending(e => Math.Abs(e.Bits)).ThenBy(e => e.Aspect, StringComparer.Ordinal).ThenBy(e => e.At),
    ];

    private Effect EffectOf(int hypothesis, int seen)
    {
        var finding = _seen[seen].Finding;
        var bits = EffectBits(hypothesis, seen);
        var rule = _shown[hypothesis][seen]!.Rule;
        return new Effect(finding.Test, finding.Aspect, finding.At, finding.Outcome!, bits, bits >= 0 ? rule.Because : rule.Against);
    }

    private double EffectBits(int hypothesis, int seen) => _shown[hypothesis][seen] is { } shown
        ? Math.Log2(shown.Shows[_seen[seen].Outcome] / _seen[seen].Healthy[_seen[seen].Outcome])
        : 0;

    private ImmutableArray<FaultSet> Posterior()
    {
        var sets = new List<FaultSet>();
        for (var a = 0; a < Hypotheses.Length; a++)
        {
            sets.Add(new FaultSet(a, null, Math.Log2(Hypotheses[a].Prior) + _bits[a]));
            for (var b = a + 1; b < Hypotheses.Length; b++)
            {
                if (Hypotheses[a].PairsWith(Hypotheses[b]))
                {
                    sets.Add(new FaultSet(a, b, PairBits(a, b)));
                }
            }
        }

        return Normalised(sets);
    }

    private double PairBits(int a, int b)
    {
        var bits = Math.Log2(PairFactor * Hypotheses[a].Prior * Hypotheses[b].Prior) + _bits[a] + _bits[b];
        for (var s = 0; s < _seen.Length; s++)
        {
            if (_shown[a][s] is { } one && _shown[b][s] is { } other)
            {
                bits -= Math.Log2(Evidence.Channel.PoolTotal(one.Shows, other.Shows, _seen[s].Healthy));
            }
        }

        return bits;
    }

    private ImmutableArray<FaultSet> Normalised(List<FaultSet> sets)
    {
        var top = sets.Max(s => s.Weight);
        var total = sets.Sum(s => Math.Pow(2, s.Weight - top));
        _marginal = new double[Hypotheses.Length];
        var answer = new FaultSet[sets.Count];
        for (var i = 0; i < answer.Length; i++)
        {
            var set = sets[i] with { Weight = Math.Pow(2, sets[i].Weight - top) / total };
            answer[i] = set;
            _marginal[set.One] += set.Weight;
            if (set.Other is { } other)
            {
                _marginal[other] += set.Weight;
            }
        }

        // Rounding in the last place must not lift a certainty above 1.
        for (var h = 0; h < _marginal.Length; h++)
        {
            _marginal[h] = Math.Min(1, _marginal[h]);
        }

        Array.Sort(answer, (a, b) => b.Weight.CompareTo(a.Weight));
        return [.. answer];
    }

    /// <summary>What each hypothesis shows on an aspect at a place.</summary>
    public Channel Channel(string aspect, Place at) =>
        new(Model.Healthy(aspect), [.. Hypotheses.Select(h => Model.Shown(h, aspect, at)?.Shows)]);

    private sealed record Seen(Finding Finding, int Outcome, double[] Healthy);
}

/// <summary>One fault, or two at once, by index of their hypotheses.</summary>
/// <param name="One">The first.</param>
/// <param name="Other">The second, or null.</param>
/// <param name="Weight">Posterior probability.</param>
internal readonly record struct FaultSet(int One, int? Other, double Weight);
