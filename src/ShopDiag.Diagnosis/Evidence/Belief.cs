using System.Buffers;
using System.Collections.Immutable;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.Evidence;

/// <summary>
/// The exact posterior over every single fault and every pair of faults, by Bayes' rule. No sampling: the sets are counted out.
/// </summary>
/// <remarks>
/// Readings of different groups are independent given the faults; those of one group at one place go together as <see cref="GroupModel"/> says. Work grows with
/// the square of causes times places (the pairs) times the groups that both halves speak of.
/// </remarks>
internal sealed class Belief
{
    /// <summary>
    /// Prior of two given faults together is this factor times the product of their priors, which puts about one car in twenty
    /// on two faults at once. Common practice: no published figure exists.
    /// </summary>
    public const double PairFactor = 0.12;

    /// <summary>Fault sets this many bits below the likeliest cannot change a figure that is shown and are passed over.</summary>
    private const double FaintBits = 45;

    /// <summary>Fault sets below this share of the belief are not listed: they cannot change the choice of the next step.</summary>
    private const double LeastWeight = 1e-4;

    private readonly Engine _engine;
    private readonly RuleTable _rules;
    private readonly Dictionary<(int Group, Place At), int> _index = [];
    private readonly Dictionary<Place, Relation[]> _relations = [];
    private readonly Dictionary<(int Group, string Reads), Weighing> _weighed = [];
    private readonly List<SeenGroup> _seen = [];
    private readonly SpokenGroup[] _spoken;
    private readonly double[] _marginal;
    private readonly double[] _single;

    private Belief(Engine engine, RuleTable rules, Hypothesis[] hypotheses, IEnumerable<Finding> findings)
    {
        (_engine, _rules, Hypotheses) = (engine, rules, hypotheses);
        foreach (var finding in findings.Where(f => f.Outcome is not null || !f.Trials.IsEmpty))
        {
            See(finding);
        }

        _spoken = [.. _seen.Select(Spoken)];
        var bits = new double[hypotheses.Length];
        foreach (var spoken in _spoken)
        {
            spoken.AddTo(bits);
        }

        (_single, _marginal) = (new double[hypotheses.Length], new double[hypotheses.Length]);
        Sets = Posterior([.. hypotheses.Select((h, i) => Math.Log2(h.Prior) + bits[i])]);
    }

    /// <summary>Every cause at every place.</summary>
    public Hypothesis[] Hypotheses { get; }

    /// <summary>The likeliest single faults and pairs with their posterior, most likely first; those below one in ten thousand are left out.</summary>
    public ImmutableArray<FaultSet> Sets { get; private set; }

    /// <summary>What the logarithm of every posterior loses so that all add up to 1, in bits.</summary>
    public double CommonBits { get; private set; }

    /// <summary>Works the posterior out from the findings that came to an outcome.</summary>
    public static Belief From(Workup workup, Knowledge knowledge, IEnumerable<Finding> findings, IReadOnlySet<(string Cause, Place At)> repaired) =>
        new(workup.Engine, knowledge.RulesFor(workup.Engine.Ignition), Hypothesis.For(workup, knowledge, repaired), findings);

    /// <summary>Posterior of a hypothesis, alone or as half of a pair.</summary>
    public double Probability(int hypothesis) => _marginal[hypothesis];

    /// <summary>What counting a hypothesis together with second faults adds to its posterior, in bits.</summary>
    public double PairBits(int hypothesis) => Math.Log2(_marginal[hypothesis] / _single[hypothesis]);

    /// <summary>What each finding does to a hypothesis against a sound engine, strongest first; findings that no rule speaks of are left out.</summary>
    public ImmutableArray<Effect> Effects(int hypothesis)
    {
        var effects = new List<Effect>();
        foreach (var group in _spoken)
        {
            effects.AddRange(group.Effects(hypothesis));
        }

        effects.Sort(StrongestFirst);
        return [.. effects];
    }

    /// <summary>True when the hypothesis says something of an aspect at a place.</summary>
    public bool SpeaksOf(int hypothesis, string aspect, Place at)
    {
        var (group, member) = _rules.Of(aspect);
        return SpeakerOf(hypothesis, group, at)?.Rules[member] is not null;
    }

    /// <summary>What has been seen so far of an aspect's group at a place, and the aspect's number in it.</summary>
    public (SeenGroup Seen, int Member) SeenAt(string aspect, Place at)
    {
        var (group, member) = _rules.Of(aspect);
        return (_index.TryGetValue((group, at), out var i) ? _seen[i] : new SeenGroup(_rules.Groups[group], group, at), member);
    }

    /// <summary>What a hypothesis makes a group show at a place; null where it is as on a sound engine.</summary>
    public Speaker? SpeakerOf(int hypothesis, int group, Place at) =>
        _rules.Speaker(group, Hypotheses[hypothesis].Index, RelationsTo(at)[hypothesis], at.Kind);

    /// <summary>What every hypothesis makes a group show at a place.</summary>
    public Speaker?[] SpeakersOf(int group, Place at)
    {
        var (relations, speakers) = (RelationsTo(at), new Speaker?[Hypotheses.Length]);
        for (var h = 0; h < speakers.Length; h++)
        {
            speakers[h] = _rules.Speaker(group, Hypotheses[h].Index, relations[h], at.Kind);
        }

        return speakers;
    }

    // How a place stands to every hypothesis is worked out once.
    private Relation[] RelationsTo(Place at)
    {
        if (!_relations.TryGetValue(at, out var relations))
        {
            var known = new Dictionary<Place, Relation>();
            relations = [.. Hypotheses.Select(h => known.TryGetValue(h.At, out var r) ? r : known[h.At] = Relations.Of(_engine, at, h.At))];
            _relations[at] = relations;
        }

        return relations;
    }

    // Groups of one kind that read alike at several places are weighed once.
    private SpokenGroup Spoken(SeenGroup group)
    {
        var key = (group.Index, group.Reads);
        if (!_weighed.TryGetValue(key, out var weighing))
        {
            _weighed[key] = weighing = new Weighing(group);
        }

        return new SpokenGroup(group, weighing, SpeakersOf(group.Index, group.At));
    }

    private static int StrongestFirst(Effect one, Effect other)
    {
        var order = Math.Abs(other.Bits).CompareTo(Math.Abs(one.Bits));
        order = order != 0 ? order : string.CompareOrdinal(one.Aspect, other.Aspect);
        return order != 0 ? order : one.At.CompareTo(other.At);
    }

    private void See(Finding finding)
    {
        var (group, member) = _rules.Of(finding.Aspect);
        if (!_index.TryGetValue((group, finding.At), out var i))
        {
            _index[(group, finding.At)] = i = _seen.Count;
            _seen.Add(new SeenGroup(_rules.Groups[group], group, finding.At));
        }

        _seen[i] = _seen[i].With(member, finding);
    }

    private ImmutableArray<FaultSet> Posterior(double[] alone)
    {
        var (n, top, factor) = (alone.Length, alone.Max(), Math.Log2(PairFactor));
        // The square is large and short-lived: it is borrowed.
        var borrowed = ArrayPool<double>.Shared.Rent(n * n);
        var pairs = borrowed.AsSpan(0, n * n);
        pairs.Clear();
        foreach (var group in _spoken)
        {
            group.AddPairs(pairs);
        }

        for (var a = 0; a < n; a++)
        {
            for (var b = a + 1; b < n; b++)
            {
                ref var bits = ref pairs[(a * n) + b];
                bits = Hypotheses[a].PairsWith(Hypotheses[b]) ? alone[a] + alone[b] + factor + bits : double.NegativeInfinity;
                top = Math.Max(top, bits);
            }
        }

        var sets = Normalised(alone, pairs, top);
        ArrayPool<double>.Shared.Return(borrowed);
        return sets;
    }

    private ImmutableArray<FaultSet> Normalised(double[] alone, ReadOnlySpan<double> pairs, double top)
    {
        var (n, total, sets) = (alone.Length, 0.0, new List<FaultSet>());
        for (var a = 0; a < n; a++)
        {
            _single[a] = Math.Pow(2, alone[a] - top);
            _marginal[a] += _single[a];
            total += _single[a];
            sets.Add(new FaultSet(a, null, _single[a]));
            for (var b = a + 1; b < n; b++)
            {
                if (pairs[(a * n) + b] - top is > -FaintBits and var bits)
                {
                    var weight = Math.Pow(2, bits);
                    _marginal[a] += weight;
                    _marginal[b] += weight;
                    total += weight;
                    sets.Add(new FaultSet(a, b, weight));
                }
            }
        }

        for (var h = 0; h < n; h++)
        {
            // Rounding in the last place must not lift a certainty above 1.
            (_single[h], _marginal[h]) = (_single[h] / total, Math.Min(1, _marginal[h] / total));
        }

        CommonBits = Hypotheses[0].CommonBits - (top + Math.Log2(total));
        return [.. sets.Where(s => s.Weight >= LeastWeight * total).Select(s => s with { Weight = s.Weight / total }).OrderByDescending(s => s.Weight)];
    }
}

/// <summary>One fault, or two at once, by index of their hypotheses.</summary>
/// <param name="One">The first.</param>
/// <param name="Other">The second, or null.</param>
/// <param name="Weight">Posterior probability.</param>
internal readonly record struct FaultSet(int One, int? Other, double Weight);
