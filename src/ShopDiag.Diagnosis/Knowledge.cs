using System.Collections.Immutable;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Causes;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Evidence;
using ShopDiag.Diagnosis.Limits;

namespace ShopDiag.Diagnosis;

/// <summary>
/// Everything the program knows of the trade, as reviewed data: bench tests, causes, limits, engine profiles.
/// Adding a test or a cause adds a file and touches no reasoning code.
/// </summary>
public sealed class Knowledge
{
    private static readonly Lazy<Knowledge> ShippedKnowledge = new(() => KnowledgeReader.ReadEmbedded(typeof(Knowledge).Assembly));
    private readonly ImmutableDictionary<string, BenchTest> _tests;
    private readonly ImmutableDictionary<string, Cause> _causes;
    private readonly ImmutableDictionary<string, (BenchTest Test, Aspect Aspect)> _aspects;
    private readonly ImmutableDictionary<Ignition, Lazy<RuleTable>> _rules;

    /// <summary>Puts knowledge together. Throws <see cref="InvalidOperationException"/> naming the entry when it does not hold together.</summary>
    public Knowledge(
        IEnumerable<BenchTest> tests,
        IEnumerable<Cause> causes,
        IEnumerable<ContradictionRule> contradictions,
        IEnumerable<Limit> limits,
        IEnumerable<EngineProfile> profiles,
        AfterRepair? afterRepair = null)
    {
        AfterRepair = afterRepair ?? AfterRepair.None;
        Tests = [.. tests];
        Causes = [.. causes];
        Contradictions = [.. contradictions];
        Limits = limits.ToImmutableDictionary(l => l.Id, StringComparer.Ordinal);
        Profiles = [.. profiles];
        _tests = Tests.ToImmutableDictionary(t => t.Id, StringComparer.Ordinal);
        _causes = Causes.ToImmutableDictionary(c => c.Id, StringComparer.Ordinal);
        _aspects = Tests.SelectMany(t => t.Aspects.Select(a => (t, a)))
            .ToImmutableDictionary(p => p.a.Id, p => (p.t, p.a), StringComparer.Ordinal);
        KnowledgeChecks.Check(this);
        _rules = Enum.GetValues<Ignition>().ToImmutableDictionary(i => i, i => new Lazy<RuleTable>(() => new RuleTable(this, i)));
    }

    /// <summary>The knowledge that ships with the program.</summary>
    public static Knowledge Shipped => ShippedKnowledge.Value;

    /// <summary>The bench tests, in the order of the cylinder sheet; also the order of evaluation.</summary>
    public ImmutableArray<BenchTest> Tests { get; }

    /// <summary>The causes, in order of id.</summary>
    public ImmutableArray<Cause> Causes { get; }

    /// <summary>Pairs of findings that cannot both be right.</summary>
    public ImmutableArray<ContradictionRule> Contradictions { get; }

    /// <summary>What an earlier repair does to the priors when the trouble is back.</summary>
    public AfterRepair AfterRepair { get; }

    /// <summary>Every limit by id.</summary>
    public ImmutableDictionary<string, Limit> Limits { get; }

    /// <summary>The generic engines.</summary>
    public ImmutableArray<EngineProfile> Profiles { get; }

    /// <summary>The test that reads trouble codes and so also takes those the car came in with; null when there is none.</summary>
    public BenchTest? CodesTest => Tests.FirstOrDefault(t => t.CodesField is not null);

    /// <summary>The causes' rules laid out for counting; made once for each ignition.</summary>
    internal RuleTable RulesFor(Ignition ignition) => _rules[ignition].Value;

    /// <summary>The test with an id, or null.</summary>
    public BenchTest? Test(string id) => _tests.GetValueOrDefault(id);

    /// <summary>The cause with an id, or null.</summary>
    public Cause? Cause(string id) => _causes.GetValueOrDefault(id);

    /// <summary>True when a finding settles nothing: the customer said it, or it was read once and the trouble did not show itself, so that another trial may show it.</summary>
    internal bool MayBeTakenAgain(Workups.Finding finding) =>
        finding.Said || finding.Trials.IsEmpty && Aspect(finding.Aspect)?.Aspect.Outcomes.FirstOrDefault(o => o.Id == finding.Outcome) is { TakeAgain: true };

    /// <summary>The aspect with an id and the test it belongs to, or null.</summary>
    public (BenchTest Test, Aspect Aspect)? Aspect(string id) =>
        _aspects.TryGetValue(id, out var found) ? found : null;
}

/// <summary>Findings that cannot both be right, loaded from <c>Evidence/contradictions.json</c>.</summary>
/// <param name="Id">Stable id.</param>
/// <param name="All">The findings, at one and the same place.</param>
/// <param name="Because">Why they cannot both be right, in plain words.</param>
/// <param name="Retake">The test to take again.</param>
/// <param name="Source">Where the rule comes from.</param>
public sealed record ContradictionRule(
    string Id, ImmutableArray<OutcomeAt> All, string Because, string Retake, string Source)
{
    /// <summary>Engines on which they speak against each other; empty means any. (With a lead between coil and plug, no spark and a sound coil go together.)</summary>
    public ImmutableArray<Ignition> OnlyIgnition { get; init; } = [];

    /// <summary>True when it holds on this engine.</summary>
    public bool Fits(Engine engine) => OnlyIgnition.IsEmpty || OnlyIgnition.Contains(engine.Ignition);
}
