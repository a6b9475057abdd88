using System.Collections.Immutable;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests;

/// <summary>What is taken where: one reading a cylinder, a bank or an engine.</summary>
public enum TestScope
{
    /// <summary>One reading a cylinder.</summary>
    Cylinder,

    /// <summary>One reading a bank.</summary>
    Bank,

    /// <summary>One reading for the engine.</summary>
    Engine,
}

/// <summary>A bench test as the knowledge describes it: loaded from <c>BenchTests/&lt;Name&gt;/test.json</c>.</summary>
public sealed record BenchTest
{
    /// <summary>Stable id, such as <c>spark-output</c>.</summary>
    public required string Id { get; init; }

    /// <summary>Title in the trade's words.</summary>
    public required string Title { get; init; }

    /// <summary>What it is for, one sentence.</summary>
    public required string Purpose { get; init; }

    /// <summary>What it says to a customer, one plain sentence without jargon.</summary>
    public required string Plainly { get; init; }

    /// <summary>Chapter of the cylinder sheet: <c>Which cylinder</c>, <c>Ignition</c>, <c>Fuel</c>, <c>Air</c>, <c>Mechanical</c>.</summary>
    public required string Chapter { get; init; }

    /// <summary>Where one reading is taken.</summary>
    public required TestScope Scope { get; init; }

    /// <summary>Other scopes that a reading may be given at (an intake leak found for a bank or the engine).</summary>
    public ImmutableArray<TestScope> AlsoScopes { get; init; } = [];

    /// <summary>The fields of a reading in order of entry.</summary>
    public required ImmutableArray<TestField> Fields { get; init; }

    /// <summary>The sides of the test that findings are made on; most tests have one, named like the test.</summary>
    public required ImmutableArray<Aspect> Aspects { get; init; }

    /// <summary>True when one cylinder's reading means something only beside the others': ask for all at once.</summary>
    public bool Compares { get; init; }

    /// <summary>
    /// How many others one cylinder's reading of a comparing test must stand beside to mean something: a suspected cylinder and so many others are then enough. 0, as
    /// it is without, means all of them (one run of the engine gives all anyway).
    /// </summary>
    public int CompareWith { get; init; }

    /// <summary>Name of the number that is judged where it is none of the fields (the drop of a power balance); null otherwise.</summary>
    public string? Measured { get; init; }

    /// <summary>Bench minutes for the first reading, access not counted. Common practice unless <see cref="Source"/> says more.</summary>
    public required double FirstMinutes { get; init; }

    /// <summary>Bench minutes for each further reading of the same test.</summary>
    public required double EachMinutes { get; init; }

    /// <summary>Bench minutes that each reading takes longer on engines with an injection: a direct injector is not exchanged in the time of a port one. None unless given.</summary>
    public ImmutableDictionary<Injection, double> LongerOn { get; init; } = ImmutableDictionary<Injection, double>.Empty;

    /// <summary>What must be taken off first; counted once while it stays off.</summary>
    public Access Access { get; init; }

    /// <summary>
    /// What the risk of the work is counted for, in minutes: a clip that breaks, a seal that must be renewed, a fuel line that is opened. Weighs in the choice
    /// of the next step only. Common practice.
    /// </summary>
    public double RiskMinutes { get; init; }

    /// <summary>Ids of the tools it takes; empty for bare hands and eyes.</summary>
    public ImmutableArray<string> Tools { get; init; } = [];

    /// <summary>How to do it, a few numbered lines.</summary>
    public required ImmutableArray<string> HowTo { get; init; }

    /// <summary>What can hurt or harm.</summary>
    public required ImmutableArray<string> Cautions { get; init; }

    /// <summary>Engines it makes sense on; empty means any.</summary>
    public ImmutableArray<Ignition> OnlyIgnition { get; init; } = [];

    /// <summary>Engines it makes sense on; empty means any.</summary>
    public ImmutableArray<Injection> OnlyInjection { get; init; } = [];

    /// <summary>Engines it makes sense on, by how the play of their valves is kept; empty means any.</summary>
    public ImmutableArray<ValveLash> OnlyLash { get; init; } = [];

    /// <summary>Tests that must have come to a given outcome at the same place before this one means anything (a wet test wants a low dry one).</summary>
    public ImmutableArray<OutcomeAt> Needs { get; init; } = [];

    /// <summary>Outcomes at the same place after which, when all of them hold, it is no longer proposed (a swap where no misfire is there to move).</summary>
    public ImmutableArray<OutcomeAt> PointlessAfter { get; init; } = [];

    /// <summary>True for a test that follows one cylinder's misfire (a swap): where most cylinders misfire it is chance what it shows, so it is not proposed there.</summary>
    public bool FollowsOneMisfire { get; init; }

    /// <summary>Chance from 0 to 0.2 that a careful technician reads or writes this one wrong. Common practice.</summary>
    public double Slip { get; init; } = 0.01;

    /// <summary>Name of the evaluation that turns values into outcomes; <c>as-given</c> where a choice field already is the outcome.</summary>
    public required string Evaluation { get; init; }

    /// <summary>Where times, procedure and figures come from.</summary>
    public required string Source { get; init; }

    /// <summary>The field that holds trouble codes, or null.</summary>
    public TestField? CodesField => Fields.FirstOrDefault(f => f.Kind == FieldKind.Codes);

    /// <summary>The field of conditions under which it misfires, which the customer's own words fill before a road check does; or null.</summary>
    public TestField? ConditionsField => Fields.FirstOrDefault(f => f.TakesConcern);

    /// <summary>A reading of trouble codes alone; only for a test with a <see cref="CodesField"/>.</summary>
    public Reading ReadingOf(ImmutableArray<string> codes) => new()
    {
        Test = Id, At = Place.Engine, Value = new ReadingValue([new(CodesField!.Name, new FieldValue { Texts = codes })]),
    };

    /// <summary>True when the test makes sense on this engine.</summary>
    public bool Fits(Engine engine) =>
        (OnlyIgnition.IsEmpty || OnlyIgnition.Contains(engine.Ignition))
        && (OnlyInjection.IsEmpty || OnlyInjection.Contains(engine.Injection))
        && (OnlyLash.IsEmpty || OnlyLash.Contains(engine.Spec.Lash));

    /// <summary>Bench minutes for the first reading on an engine, access not counted.</summary>
    public double FirstMinutesOn(Engine engine) => FirstMinutes + LongerOn.GetValueOrDefault(engine.Injection);

    /// <summary>Bench minutes for each further reading on an engine.</summary>
    public double EachMinutesOn(Engine engine) => EachMinutes + LongerOn.GetValueOrDefault(engine.Injection);

    /// <summary>True when a reading may stand at this kind of place.</summary>
    public bool Takes(PlaceKind kind) => kind == KindOf(Scope) || AlsoScopes.Any(s => kind == KindOf(s));

    /// <summary>The places of one full round of this test on an engine.</summary>
    public ImmutableArray<Place> PlacesOn(Engine engine) => PlacesOn(engine, Scope);

    /// <summary>All places of a scope on an engine, in order.</summary>
    public static ImmutableArray<Place> PlacesOn(Engine engine, TestScope scope) => scope switch
    {
        TestScope.Cylinder => [.. engine.Cylinders.Select(Place.Cylinder)],
        TestScope.Bank => [.. Enumerable.Range(1, engine.Banks.Length).Select(Place.Bank)],
        TestScope.Engine => [Place.Engine],
        _ => throw new InvalidOperationException($"Unknown scope {scope}."),
    };

    /// <summary>The kind of place that goes with a scope.</summary>
    public static PlaceKind KindOf(TestScope scope) => scope switch
    {
        TestScope.Cylinder => PlaceKind.Cylinder,
        TestScope.Bank => PlaceKind.Bank,
        TestScope.Engine => PlaceKind.Engine,
        _ => throw new InvalidOperationException($"Unknown scope {scope}."),
    };
}

/// <summary>What a test needs taken off first.</summary>
public enum Access
{
    /// <summary>Nothing.</summary>
    None,

    /// <summary>The covers over coils or injectors of that bank.</summary>
    Coils,

    /// <summary>The spark plug of that cylinder (and so the coil covers).</summary>
    PlugsOut,

    /// <summary>The valve cover of that bank (and so the coil covers).</summary>
    ValveCover,
}

/// <summary>An outcome of a test, as rules name it: at the place in question unless said otherwise.</summary>
/// <param name="Test">The test's id, or an aspect's id.</param>
/// <param name="Outcomes">Any of these.</param>
/// <param name="Where">Seen from the cause's place.</param>
public sealed record OutcomeAt(string Test, ImmutableArray<string> Outcomes, Relation Where = Relation.Here)
{
    /// <summary>True when a proof wants it read twice: one look at a wisp of smoke, one run after a swap sells no part.</summary>
    public bool Twice { get; init; }

    /// <summary>
    /// How many cylinders of the cause's place must show it for a proof, 2 or more; 0 for every one of them. What many share need not show at each of them: of a worn cap two burnt towers are enough.
    /// </summary>
    public int AtLeast { get; init; }
}

/// <summary>How a reading's place stands to a cause's place.</summary>
public enum Relation
{
    /// <summary>In the place itself (for a pair: either of the two; for a bank: any cylinder on it; for the engine: anywhere).</summary>
    Here,

    /// <summary>At the companion cylinder, 360 degrees away in the firing order.</summary>
    Companion,

    /// <summary>At a cylinder next to it on its bank.</summary>
    Neighbour,

    /// <summary>On the same bank, none of the above, or the bank itself.</summary>
    SameBank,

    /// <summary>At the engine, for a cause at a cylinder, pair or bank.</summary>
    Engine,

    /// <summary>Anywhere else.</summary>
    Elsewhere,
}

/// <summary>What a field holds.</summary>
public enum FieldKind
{
    /// <summary>A number.</summary>
    Number,

    /// <summary>One of a list of words.</summary>
    Choice,

    /// <summary>Another cylinder's number; may be an explicit null where <see cref="TestField.MayBeNull"/> says so.</summary>
    Cylinder,

    /// <summary>Trouble codes.</summary>
    Codes,

    /// <summary>Several of a list of words.</summary>
    Choices,

    /// <summary>Free text.</summary>
    Text,
}

/// <summary>One field of a reading.</summary>
public sealed record TestField
{
    /// <summary>Wire name with the unit in it: <c>kPa</c>, <c>gapMm</c>; dotted for a nested one.</summary>
    public required string Name { get; init; }

    /// <summary>Label on the screen, without the unit.</summary>
    public required string Label { get; init; }

    /// <summary>What it holds.</summary>
    public required FieldKind Kind { get; init; }

    /// <summary>For numbers: the quantity, which gives the units offered (see <c>Quantities</c>): <c>gauge-pressure</c>, <c>voltage</c>, <c>count</c> ...</summary>
    public string? Quantity { get; init; }

    /// <summary>Smallest possible number; below is refused.</summary>
    public double? Min { get; init; }

    /// <summary>Largest possible number; above is refused.</summary>
    public double? Max { get; init; }

    /// <summary>Below this is asked about once.</summary>
    public double? LikelyMin { get; init; }

    /// <summary>Above this is asked about once.</summary>
    public double? LikelyMax { get; init; }

    /// <summary>The words of a choice, in order.</summary>
    public ImmutableArray<Choice> Choices { get; init; } = [];

    /// <summary>True when a reading without it is still a reading.</summary>
    public bool Optional { get; init; }

    /// <summary>True when several numbers (trials) may be given.</summary>
    public bool Several { get; init; }

    /// <summary>True when an explicit null means something.</summary>
    public bool MayBeNull { get; init; }

    /// <summary>True when it stays the same from one cylinder to the next (a tester's gap, a temperature), so that it is typed once a round.</summary>
    public bool SameForRound { get; init; }

    /// <summary>True when what the customer says of when it happens is read as this field, where the test itself has not been taken.</summary>
    public bool TakesConcern { get; init; }

    /// <summary>What null means, in words (the misfire went away).</summary>
    public string? NullMeans { get; init; }
}

/// <summary>One word of a choice.</summary>
/// <param name="Id">Wire value.</param>
/// <param name="Label">Words on the screen.</param>
/// <param name="NeedsDrive">True for a condition that is not met at idle in the shop, so that a repair is proved only by a drive.</param>
public sealed record Choice(string Id, string Label, bool NeedsDrive = false);

/// <summary>One side of a test: the outcomes it can have and how a sound engine shows them.</summary>
public sealed record Aspect
{
    /// <summary>Id, unique over all tests.</summary>
    public required string Id { get; init; }

    /// <summary>Where its findings stand; may differ from the test's (codes are read at the engine and speak of cylinders).</summary>
    public required TestScope Scope { get; init; }

    /// <summary>The outcomes.</summary>
    public required ImmutableArray<AspectOutcome> Outcomes { get; init; }

    /// <summary>
    /// True when it shows a trouble only while that acts, and is taken with the engine standing or idling in the bay: a spark, a balance. False for what is remembered or noticed over a drive
    /// (codes, counts taken the way it misfires, what the customer says) and for what can be seen or measured on the part itself.
    /// </summary>
    public bool Live { get; init; }

    /// <summary>The test group whose aspects see the same physical thing (two views of one leak); null when alone.</summary>
    public string? Group { get; init; }
}

/// <summary>One outcome of an aspect.</summary>
/// <param name="Id">Stable id.</param>
/// <param name="Word">The word on the sheet.</param>
/// <param name="Healthy">Probability that a sound cylinder, bank or engine shows it. The outcomes of an aspect add up to 1.</param>
/// <param name="Good">True when it speaks of nothing wrong.</param>
/// <param name="State">What it says of how the cylinder pulls, for the tests that show which cylinder is not pulling; null for all others.</param>
/// <param name="TakeAgain">True when the trouble was not seen while it was read (a misfire that went away with the swap): it may be taken once more, and counts only as long as no other trial shows more.</param>
/// <param name="AsSound">True where a sound part reads so, though it does not speak of nothing wrong (a misfire that stays with its cylinder when a part is exchanged): a look may show it by mistake.</param>
public sealed record AspectOutcome(string Id, string Word, double Healthy, bool Good = false, CylinderCondition? State = null, bool TakeAgain = false, bool AsSound = false)
{
    /// <summary>True when it speaks of trouble: not good, and not what a sound engine usually shows either (a swap after which the misfire stays).</summary>
    public bool IsTrouble => !Good && Healthy < 0.5;
}
