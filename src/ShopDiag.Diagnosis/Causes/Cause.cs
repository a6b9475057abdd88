using System.Collections.Immutable;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.Diagnosis.Causes;

/// <summary>The kind of place a cause sits at.</summary>
public enum CauseScope
{
    /// <summary>One cylinder.</summary>
    Cylinder,

    /// <summary>Two companions in the firing order.</summary>
    Companions,

    /// <summary>Two neighbours on a bank.</summary>
    Neighbours,

    /// <summary>A bank.</summary>
    Bank,

    /// <summary>The engine.</summary>
    Engine,
}

/// <summary>A cause as the knowledge describes it: loaded from <c>Causes/&lt;id&gt;.json</c>.</summary>
public sealed record Cause
{
    /// <summary>Stable id, such as <c>coil-failed</c>.</summary>
    public required string Id { get; init; }

    /// <summary>Title in the trade's words.</summary>
    public required string Title { get; init; }

    /// <summary>Where it can sit.</summary>
    public required CauseScope Scope { get; init; }

    /// <summary>Where it can sit on a waste-spark engine, when that differs: a lost coil feed takes both companions with it. Null: as <see cref="Scope"/>.</summary>
    public CauseScope? ScopeOnWasteSpark { get; init; }

    /// <summary>
    /// How common it is among misfires to begin with, as a weight over all its places together; weights of the causes that fit
    /// an engine are scaled to add up to 1. Common practice: no published split exists.
    /// </summary>
    public required double Weight { get; init; }

    /// <summary>
    /// True for the entry that stands for everything the knowledge does not list. It takes its share of the probability,
    /// but is never shown as a cause, proven or paired with another.
    /// </summary>
    public bool Unlisted { get; init; }

    /// <summary>True for a cause that excludes any other (nothing is wrong with the engine), so it is never half of a pair.</summary>
    public bool Alone { get; init; }

    /// <summary>
    /// Probability that it sleeps while it is tested: a coil that gives out only when hot, a crack that flashes over only under load. Then the readings that show it only while it acts
    /// (<see cref="Aspect.Live"/>) come out as on a sound engine, all of them. 0 for what is there all the time; at most 0.6. Common practice.
    /// </summary>
    public double Sleeps { get; init; }

    /// <summary>
    /// Probability that a trouble that several cylinders share shows little of itself to one kind of reading, on all of them; otherwise all of them show more of it than its rules say. See
    /// <see cref="Evidence.Strength"/>. 0 where each cylinder counts for itself. Common practice.
    /// </summary>
    public double Slight { get; init; }

    /// <summary>Engines it exists on; empty means any.</summary>
    public ImmutableArray<Ignition> OnlyIgnition { get; init; } = [];

    /// <summary>Engines it exists on; empty means any.</summary>
    public ImmutableArray<Injection> OnlyInjection { get; init; } = [];

    /// <summary>Engines it exists on, by how the play of their valves is kept; empty means any.</summary>
    public ImmutableArray<ValveLash> OnlyLash { get; init; } = [];

    /// <summary>Ids of evidence patterns shared by several causes (<c>Causes/Patterns/*.json</c>); own rules replace theirs.</summary>
    public ImmutableArray<string> Like { get; init; } = [];

    /// <summary>Ids of causes at the same place that its repair mends too (a coil on plug comes with its boot).</summary>
    public ImmutableArray<string> AlsoMends { get; init; } = [];

    /// <summary>What it makes each test show.</summary>
    public ImmutableArray<EvidenceRule> Shows { get; init; } = [];

    /// <summary>Sets of readings of which any one proves it.</summary>
    public ImmutableArray<ProofRule> Proof { get; init; } = [];

    /// <summary>What mends it.</summary>
    public required CauseRepair Repair { get; init; }

    /// <summary>What happens if it is left, one or two short plain sentences.</summary>
    public required string IfLeft { get; init; }

    /// <summary>How a customer would be told, one plain sentence; <c>{place}</c> stands for the place in words.</summary>
    public required string ForCustomer { get; init; }

    /// <summary>Where the entry comes from; <c>common practice</c> for knowledge of the trade.</summary>
    public required string Source { get; init; }

    /// <summary>True when it exists on this engine.</summary>
    public bool Fits(Engine engine) =>
        Suits(engine.Ignition, engine.Injection) && (OnlyLash.IsEmpty || OnlyLash.Contains(engine.Spec.Lash)) && PlacesOn(engine).Any();

    /// <summary>True when it exists on engines with this ignition and injection, a place for it granted.</summary>
    public bool Suits(Ignition ignition, Injection injection) =>
        (OnlyIgnition.IsEmpty || OnlyIgnition.Contains(ignition)) && (OnlyInjection.IsEmpty || OnlyInjection.Contains(injection));

    /// <summary>The kind of place it sits at on this engine.</summary>
    public CauseScope ScopeOn(Engine engine) =>
        engine.Ignition == Ignition.WasteSpark && ScopeOnWasteSpark is { } shared ? shared : Scope;

    /// <summary>The places it can sit at on this engine.</summary>
    public IEnumerable<Place> PlacesOn(Engine engine) => ScopeOn(engine) switch
    {
        CauseScope.Cylinder => engine.Cylinders.Select(Place.Cylinder),
        CauseScope.Companions => engine.CompanionPairs,
        CauseScope.Neighbours => engine.NeighbourPairs,
        CauseScope.Bank => Enumerable.Range(1, engine.Banks.Length).Select(Place.Bank),
        CauseScope.Engine => [Place.Engine],
        var scope => throw new InvalidOperationException($"Unknown scope {scope}."),
    };

    /// <summary>
    /// The rule that speaks about a finding, or null where the cause changes nothing: the first that fits, own rules before those of patterns.
    /// </summary>
    /// <param name="aspect">The finding's aspect.</param>
    /// <param name="where">How the finding's place stands to the cause's place.</param>
    /// <param name="at">The kind of place the finding stands at.</param>
    /// <param name="engine">The engine.</param>
    public EvidenceRule? RuleFor(string aspect, Relation where, PlaceKind at, Engine engine) =>
        Shows.FirstOrDefault(r => r.Aspect == aspect && r.Where == where && r.Speaks(at, engine));

    /// <summary>The sets of readings that prove it on this engine.</summary>
    public IEnumerable<ProofRule> ProofOn(Engine engine) => Proof.Where(p => p.Fits(engine));
}

/// <summary>One evidence rule: what a cause makes one aspect of a test show at places in one relation to it.</summary>
public sealed record EvidenceRule
{
    /// <summary>The aspect's id (equal to the test's id where a test has one aspect).</summary>
    public required string Aspect { get; init; }

    /// <summary>Seen from the cause's place. Where no rule speaks, the reading is as on a sound engine.</summary>
    public Relation Where { get; init; } = Relation.Here;

    /// <summary>The kind of place the finding must stand at; null for any. Needed where one aspect is read by cylinder, bank or engine (an intake leak).</summary>
    public PlaceKind? At { get; init; }

    /// <summary>Engines it holds on; empty means any.</summary>
    public ImmutableArray<Ignition> OnlyIgnition { get; init; } = [];

    /// <summary>The cause's <see cref="Cause.Slight"/> for this kind of reading alone; null where the cause's own holds.</summary>
    public double? Slight { get; init; }

    /// <summary>Probability of each outcome; adds up to 1.</summary>
    public required ImmutableDictionary<string, double> Shows { get; init; }

    /// <summary>Why, in plain words, said when a reading speaks for the cause.</summary>
    public required string Because { get; init; }

    /// <summary>Why, in plain words, said when a reading speaks against it.</summary>
    public required string Against { get; init; }

    /// <summary>Where the strength comes from; <c>common practice</c> for knowledge of the trade.</summary>
    public required string Source { get; init; }

    /// <summary>True when it holds for findings at this kind of place on this engine.</summary>
    public bool Speaks(PlaceKind at, Engine engine) =>
        (At is null || At == at) && HoldsOn(engine.Ignition);

    /// <summary>True when it holds on engines that make their spark this way.</summary>
    public bool HoldsOn(Ignition ignition) => OnlyIgnition.IsEmpty || OnlyIgnition.Contains(ignition);

    /// <summary>True when this rule leaves nothing for another to say: same aspect, same relation, no narrower.</summary>
    public bool Covers(EvidenceRule other) =>
        Aspect == other.Aspect && Where == other.Where && (At is null || At == other.At)
        && (OnlyIgnition.IsEmpty || (!other.OnlyIgnition.IsEmpty && other.OnlyIgnition.All(OnlyIgnition.Contains)));
}

/// <summary>Readings that together prove a cause.</summary>
/// <param name="All">All of these.</param>
/// <param name="Says">What they show together, in plain words.</param>
public sealed record ProofRule(ImmutableArray<OutcomeAt> All, string Says)
{
    /// <summary>Readings of which any one keeps the proof open. (All cylinders pull, but a misfire code is stored.)</summary>
    public ImmutableArray<OutcomeAt> Unless { get; init; } = [];

    /// <summary>Engines on which they prove it; empty means any. (Where a lead lies between coil and tester, no spark does not prove the coil.)</summary>
    public ImmutableArray<Ignition> OnlyIgnition { get; init; } = [];

    /// <summary>Engines on which they prove it, by how the play of their valves is kept; empty means any. (Where it can be set, it is measured first.)</summary>
    public ImmutableArray<ValveLash> OnlyLash { get; init; } = [];

    /// <summary>True when it holds on this engine.</summary>
    public bool Fits(Engine engine) =>
        (OnlyIgnition.IsEmpty || OnlyIgnition.Contains(engine.Ignition)) && (OnlyLash.IsEmpty || OnlyLash.Contains(engine.Spec.Lash));
}

/// <summary>What mends a cause.</summary>
public sealed record CauseRepair
{
    /// <summary>One sentence; <c>{place}</c> stands for the place in words.</summary>
    public required string Summary { get; init; }

    /// <summary>Usual labour in minutes, access not counted. Common practice.</summary>
    public required double LabourMinutes { get; init; }

    /// <summary>What must come off: adds the bank's access minutes unless <c>None</c>.</summary>
    public Access Access { get; init; }

    /// <summary>
    /// What its parts usually cost, as minutes of the shop's labour rate; 0 where no part is needed. Weighs whether repairing and seeing is cheaper
    /// than proving. Common practice.
    /// </summary>
    public double PartsInMinutes { get; init; }

    /// <summary>True where finding the spot is part of the work (a leak, a break in a wire): what has not been found is not repaired to see, until nothing else is left.</summary>
    public bool FindFirst { get; init; }

    /// <summary>The parts.</summary>
    public ImmutableArray<CausePart> Parts { get; init; } = [];

    /// <summary>What can hurt or harm in this work; defers to the maker's procedure.</summary>
    public ImmutableArray<string> Cautions { get; init; } = [];

    /// <summary>Ids of the tests that prove the repair.</summary>
    public required ImmutableArray<string> Check { get; init; }
}

/// <summary>How many of a part.</summary>
public enum PartCount
{
    /// <summary>One.</summary>
    One,

    /// <summary>One a cylinder of the place.</summary>
    PerCylinder,

    /// <summary>One a cylinder of the whole engine (a set).</summary>
    WholeSet,

    /// <summary>One a bank concerned.</summary>
    PerBank,
}

/// <summary>A part of a repair.</summary>
public sealed record CausePart
{
    /// <summary>What, in the trade's words.</summary>
    public required string Part { get; init; }

    /// <summary>How many.</summary>
    public PartCount Count { get; init; } = PartCount.One;

    /// <summary>What the counter must match, or empty.</summary>
    public string MustMatch { get; init; } = "";

    /// <summary>True when it goes together with the failed part though not failed itself.</summary>
    public bool Together { get; init; }
}
