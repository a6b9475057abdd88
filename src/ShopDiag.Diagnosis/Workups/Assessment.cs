using System.Collections.Immutable;
using ShopDiag.Diagnosis.BenchTests;

namespace ShopDiag.Diagnosis.Workups;

/// <summary>What a workup adds up to.</summary>
public sealed record Assessment
{
    /// <summary>The workup's id.</summary>
    public required string Id { get; init; }

    /// <summary>What is known of each cylinder, in number order.</summary>
    public required ImmutableArray<CylinderState> Cylinders { get; init; }

    /// <summary>Every cause at every place that fits the engine, most likely first.</summary>
    public required ImmutableArray<RankedCause> Causes { get; init; }

    /// <summary>What every cause's logarithm loses alike so that all probabilities add up to 1, in bits.</summary>
    public double CommonBits { get; init; }

    /// <summary>Probability that the trouble is something the knowledge does not list. With the single faults it adds up to at most 1.</summary>
    public required double Unlisted { get; init; }

    /// <summary>What to do next, best value first. After a conclusion: the repair, then the check.</summary>
    public required ImmutableArray<NextStepAdvice> Next { get; init; }

    /// <summary>The proven finding, or null while nothing is proven.</summary>
    public required Conclusion? Conclusion { get; init; }

    /// <summary>Readings that speak against each other.</summary>
    public required ImmutableArray<Contradiction> Contradictions { get; init; }

    /// <summary>What the readings came to, in the order of the test list and then by place.</summary>
    public required ImmutableArray<Finding> Findings { get; init; }

    /// <summary>Cautions and remarks on the whole workup (a flashing lamp, a default limit used ...).</summary>
    public required ImmutableArray<string> Warnings { get; init; }
}

/// <summary>How a cylinder pulls.</summary>
public enum CylinderCondition
{
    /// <summary>Nothing known.</summary>
    Unknown,

    /// <summary>It pulls its weight.</summary>
    Contributing,

    /// <summary>Named by a code or by counts: it misfires at times.</summary>
    Misfiring,

    /// <summary>It pulls less than the others.</summary>
    Weak,

    /// <summary>It does not pull.</summary>
    Dead,

    /// <summary>Measured, but the numbers cannot tell.</summary>
    CannotTell,
}

/// <summary>What is known of one cylinder.</summary>
/// <param name="Cylinder">Its number.</param>
/// <param name="State">How it pulls.</param>
/// <param name="Because">The reading that says so, in plain words.</param>
public sealed record CylinderState(int Cylinder, CylinderCondition State, string Because);

/// <summary>What the readings of one test at one place came to.</summary>
public sealed record Finding
{
    /// <summary>The test's id.</summary>
    public required string Test { get; init; }

    /// <summary>The side of the test this speaks of; equal to the test's id where a test has one side only.</summary>
    public required string Aspect { get; init; }

    /// <summary>Where.</summary>
    public required Place At { get; init; }

    /// <summary>Before or after the repair.</summary>
    public Stage Stage { get; init; }

    /// <summary>The outcome's id, or null when the numbers cannot tell.</summary>
    public required string? Outcome { get; init; }

    /// <summary>Which rule decided and on what numbers, in plain words; for "cannot tell", what to do about it.</summary>
    public required string Because { get; init; }

    /// <summary>The number that was judged, in the unit the sheet shows, or null: a drop in rpm, kPa, percent ...</summary>
    public double? Measure { get; init; }

    /// <summary>What each trial came to alone, in order of its value, where it was taken more than once; empty otherwise. The belief counts each trial.</summary>
    public ImmutableArray<string> Trials { get; init; } = [];

    /// <summary>True when repeated trials disagree more than their kind should.</summary>
    public bool TrialsDisagree { get; init; }

    /// <summary>True when it was read more than once, more than half of it with this answer and at least twice.</summary>
    internal bool IsBorneOut => Trials.Count(t => t == Outcome) is >= 2 and var agreeing && 2 * agreeing > Trials.Length;

    /// <summary>True when it is only what the customer says; once somebody has read it himself that counts instead.</summary>
    public bool Said { get; init; }

    /// <summary>True when a common-practice default decided, not the maker's figure.</summary>
    public bool ByDefaultLimit { get; init; }
}

/// <summary>One cause at one place with its probability and the evidence behind it.</summary>
public sealed record RankedCause
{
    /// <summary>The cause's id.</summary>
    public required string Cause { get; init; }

    /// <summary>Where.</summary>
    public required Place At { get; init; }

    /// <summary>Probability from 0 to 1; a paired fault counts in each of its parts.</summary>
    public required double Probability { get; init; }

    /// <summary>Base-2 logarithm of the prior, an earlier repair not counted.</summary>
    public required double PriorBits { get; init; }

    /// <summary>What the earlier repairs of a comeback do to the prior, strongest first; empty where none bears on this cause.</summary>
    public ImmutableArray<EarlierEffect> Earlier { get; init; } = [];

    /// <summary>
    /// What counting it together with a second fault adds, in bits. The prior, the effects of earlier repairs and of readings, this and <see cref="Assessment.CommonBits"/> add up to the base-2
    /// logarithm of the probability.
    /// </summary>
    public double PairBits { get; init; }

    /// <summary>True when the readings that the cause's entry names as proof are there.</summary>
    public required bool Proven { get; init; }

    /// <summary>What each finding does to this cause, strongest first.</summary>
    public required ImmutableArray<Effect> Evidence { get; init; }
}

/// <summary>What one finding does to one cause.</summary>
/// <param name="Test">The test.</param>
/// <param name="Aspect">Its aspect.</param>
/// <param name="At">Where the finding was made.</param>
/// <param name="Outcome">What was found.</param>
/// <param name="Bits">log2 of P(finding | this cause) / P(finding | sound engine): positive speaks for it.</param>
/// <param name="Because">Why, in plain words.</param>
public sealed record Effect(string Test, string Aspect, Place At, string Outcome, double Bits, string Because)
{
    /// <summary>After the repair where it is what the readings there say of causes that the repair does not mend; before it otherwise.</summary>
    public Stage Stage { get; init; }
}

/// <summary>A thing to do next.</summary>
public sealed record NextStepAdvice
{
    /// <summary>The test to take, or null when the advice is a repair.</summary>
    public string? Test { get; init; }

    /// <summary>The repair to make, or null.</summary>
    public Repair? Repair { get; init; }

    /// <summary>True for a repair that is advised though its cause is not proven, because it is cheaper than a proof and no guess.</summary>
    public bool Unproven { get; init; }

    /// <summary>Where. <see cref="Place.Engine"/> for a cylinder or bank test means: everywhere.</summary>
    public required Place At { get; init; }

    /// <summary>Before or after the repair.</summary>
    public Stage Stage { get; init; }

    /// <summary>Bench minutes, access included.</summary>
    public required double Minutes { get; init; }

    /// <summary>Expected bits of knowledge gained; 0 for a repair.</summary>
    public double Gain { get; init; }

    /// <summary>Expected bench minutes to a proven cause when this is taken first, its own included; 0 for a repair and for a reading to take again.</summary>
    public double ToProof { get; init; }

    /// <summary>Why this, why now.</summary>
    public required string Because { get; init; }

    /// <summary>What to watch out for.</summary>
    public required ImmutableArray<string> Cautions { get; init; }
}

/// <summary>A proven finding.</summary>
/// <param name="Causes">The proven causes.</param>
/// <param name="Proof">The findings that prove them.</param>
/// <param name="Repair">What mends it.</param>
public sealed record Conclusion(
    ImmutableArray<ProvenCause> Causes, ImmutableArray<ProofReading> Proof, Repair Repair);

/// <summary>A proven cause at its place.</summary>
public sealed record ProvenCause(string Cause, Place At);

/// <summary>One reading of a proof.</summary>
/// <param name="Test">The test.</param>
/// <param name="At">Where.</param>
/// <param name="Outcome">What was found.</param>
/// <param name="Because">What it shows, in plain words.</param>
public sealed record ProofReading(string Test, Place At, string Outcome, string Because);

/// <summary>What mends a cause.</summary>
/// <param name="Summary">One sentence.</param>
/// <param name="Parts">The parts with quantity and position.</param>
/// <param name="LabourMinutes">Usual labour, access included.</param>
/// <param name="Check">Ids of the tests that prove the repair.</param>
public sealed record Repair(
    string Summary, ImmutableArray<RepairPart> Parts, double LabourMinutes, ImmutableArray<string> Check);

/// <summary>One line of a parts list.</summary>
/// <param name="Part">What, in the trade's words.</param>
/// <param name="Quantity">How many.</param>
/// <param name="At">Which position.</param>
/// <param name="MustMatch">What the counter must match, or empty.</param>
/// <param name="Together">True when it is replaced together with the others of its kind, not because it failed.</param>
public sealed record RepairPart(string Part, int Quantity, Place At, string MustMatch, bool Together);

/// <summary>Readings that speak against each other.</summary>
/// <param name="Readings">The findings involved.</param>
/// <param name="Because">Why they cannot both be right.</param>
/// <param name="Retake">The test to take again.</param>
/// <param name="At">Where to take it.</param>
public sealed record Contradiction(
    ImmutableArray<ProofReading> Readings, string Because, string Retake, Place At)
{
    /// <summary>The sides of the tests that disagree, and where.</summary>
    internal ImmutableArray<(string Aspect, Place At)> Speaking { get; init; } = [];
}
