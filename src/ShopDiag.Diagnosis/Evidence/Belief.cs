using System.Collections.Immutable;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.Evidence;

/// <summary>
/// The exact posterior over every single fault and every pair of faults, by Bayes' rule. No sampling: the sets are counted out.
/// </summary>
/// <remarks>
/// Readings of different groups are independent given the faults and whether each is awake (<see cref="Sleep"/>); those of one group at one place go together as <see cref="GroupModel"/> says, and those at several cylinders as <see cref="Strength"/> says. Work grows with
/// the square of causes times places (the pairs) times the groups that both halves speak of.
/// </remarks>
internal sealed class Belief
{
    /// <summary>
    /// Prior of two given faults together is this factor times the product of their priors, which puts about one car in twenty
    /// on two faults at once. Common practice: no published figure exists.
    /// </summary>
    public const double PairFactor = 0.12;

    private readonly Engine _engine;
    private readonly RuleTable _rules;
    private readonly Dictionary<(int Group, Place At), int> _index = [];
    private readonly Dictionary<Place, Relation[]> _relations = [];
    private readonly Dictionary<(int Group, string Reads), Weighing> _weighed = [];
    private readonly List<SeenGroup> _seen = [];
    private readonly SpokenGroup[] _spoken;
    private readonly Dictionary<int, SharedGroup> _shared;
    private readonly RepairEvidence _repair;
    private readonly double[] _awake;
    private readonly double[] _asleep;
    private readonly Posterior _posterior;

    private Belief(Engine engine, RuleTable rules, Hypothesis[] hypotheses, IEnumerable<Finding> findings, IEnumerable<Finding> after, Func<Hypothesis, bool> isMended)
    {
        (_engine, _rules, Hypotheses) = (engine, rules, hypotheses);
        foreach (var finding in findings.Where(f => f.Outcome is not null || !f.Trials.IsEmpty))
        {
            See(finding);
        }

        var read = _seen.ConvertAll(Read);
        _spoken = [.. read.Select(p => new SpokenGroup(p))];
        _shared = read
            .Where(p => p.Group.At.Kind == PlaceKind.Cylinder && Array.Exists(p.Speakers, s => s is { Varies: true }))
            .GroupBy(p => p.Group.Index)
            .ToDictionary(g => g.Key, g => new SharedGroup(hypotheses, g));
        (_awake, _asleep) = (new double[hypotheses.Length], new double[hypotheses.Length]);
        using var pairs = new PairSquare(hypotheses.Length, Array.Exists(hypotheses, h => h.Cause.Sleeps > 0));
        foreach (var spoken in _spoken)
        {
            spoken.AddTo(_awake, _asleep);
            spoken.AddPairs(pairs);
        }

        foreach (var shared in _shared.Values)
        {
            shared.AddTo(_awake, _asleep);
            shared.AddPairs(pairs);
        }

        _repair = new RepairEvidence(this, after, isMended);
        _repair.AddTo(_awake, _asleep);
        _posterior = new Posterior(hypotheses, _awake, _asleep, pairs);
    }

    /// <summary>Every cause at every place.</summary>
    public Hypothesis[] Hypotheses { get; }

    /// <summary>The likeliest single faults and pairs with their posterior, most likely first; those below one in ten thousand are left out.</summary>
    public ImmutableArray<FaultSet> Sets => _posterior.Sets;

    /// <summary>What the logarithm of every posterior loses so that all add up to 1, in bits.</summary>
    public double CommonBits => _posterior.CommonBits;

    /// <summary>Works the posterior out from the findings that came to an outcome.</summary>
    public static Belief From(Workup workup, Knowledge knowledge, IEnumerable<Finding> findings, IReadOnlySet<(string Cause, Place At)> repaired) =>
        new(workup.Engine, knowledge.RulesFor(workup.Engine.Ignition), Hypothesis.For(workup, knowledge, repaired), findings, [], _ => false);

    /// <summary>Works the posterior out from the findings before a repair and the good ones after it.</summary>
    public static Belief Since(Workup workup, Knowledge knowledge, IEnumerable<Finding> before, IEnumerable<Finding> after, IReadOnlySet<(string Cause, Place At)> repaired) =>
        new(workup.Engine, knowledge.RulesFor(workup.Engine.Ignition), Hypothesis.For(workup, knowledge, ImmutableHashSet<(string, Place)>.Empty), before, after, h => SameRepair.IsMended(knowledge, repaired, h.Cause, h.At));

    /// <summary>Posterior of a hypothesis, alone or as half of a pair.</summary>
    public double Probability(int hypothesis) => _posterior.Marginal[hypothesis];

    /// <summary>What counting a hypothesis together with second faults adds to its posterior, in bits.</summary>
    public double PairBits(int hypothesis) => Math.Log2(_posterior.Marginal[hypothesis] / _posterior.Single[hypothesis]);

    /// <summary>What each finding does to a hypothesis against a sound engine, strongest first; findings that no rule speaks of are left out.</summary>
    public ImmutableArray<Effect> Effects(int hypothesis)
    {
        var (effects, awake) = (new List<Effect>(), WakingShare(hypothesis));
        foreach (var group in _spoken)
        {
            effects.AddRange(group.Effects(hypothesis, awake));
        }

        effects.AddRange(_shared.Values.SelectMany(s => s.Effects(hypothesis)));
        effects.AddRange(_repair.Effects(hypothesis, awake));
        effects.Sort(StrongestFirst);
        return [.. effects];
    }

    /// <summary>Probability that a hypothesis is awake, if it is the only fault.</summary>
    public double Awake(int hypothesis) => _posterior.Awake(hypothesis);

    /// <summary>Probability that a hypothesis shows more of itself to a group, awake or strong there, if it is the only fault.</summary>
    public double ShowsMore(int hypothesis, int group, Speaker? speaker) =>
        speaker is not { Varies: true } ? Awake(hypothesis) : _shared.TryGetValue(group, out var shared) && shared.Varies(hypothesis) ? shared.Strong(hypothesis) : 1 - speaker.Slight;

    // How far the effects on a hypothesis are those on it awake, so that they add up: all that was read says together what its mean over awake and asleep says.
    private double WakingShare(int hypothesis)
    {
        var (sleeps, awake, asleep) = (Hypotheses[hypothesis].Cause.Sleeps, _awake[hypothesis], _asleep[hypothesis]);
        if (sleeps <= 0 || Math.Abs(awake - asleep) < 1e-12)
        {
            return 1 - sleeps;
        }

        var together = asleep + Math.Log2(sleeps + ((1 - sleeps) * Math.Pow(2, awake - asleep)));
        return Math.Clamp((together - asleep) / (awake - asleep), 0, 1);
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
    private ReadGroup Read(SeenGroup group)
    {
        var key = (group.Index, group.Reads);
        if (!_weighed.TryGetValue(key, out var weighing))
        {
            _weighed[key] = weighing = new Weighing(group);
        }

        return new ReadGroup(group, weighing, SpeakersOf(group.Index, group.At));
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
}
