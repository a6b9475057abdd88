using System.Collections.Immutable;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Storage.Orders;
using ShopDiag.Web.Shop;

namespace ShopDiag.Web.Components.WorkupViews;

/// <summary>A thing to do, ready to be shown.</summary>
public sealed record StepView
{
    /// <summary>Test and place, or <c>repair</c>: the same from one assessment to the next.</summary>
    public required string Key { get; init; }

    /// <summary>What.</summary>
    public required string What { get; init; }

    /// <summary>Where, in words.</summary>
    public required string Where { get; init; }

    /// <summary>Why.</summary>
    public required string Why { get; init; }

    /// <summary>How long, in words.</summary>
    public required string Minutes { get; init; }

    /// <summary>With what, in words.</summary>
    public required string Tools { get; init; }

    /// <summary>How, a few lines.</summary>
    public required ImmutableArray<string> HowTo { get; init; }

    /// <summary>What can hurt or harm.</summary>
    public required ImmutableArray<string> Cautions { get; init; }

    /// <summary>The cell that entry begins in, or null for a repair.</summary>
    public CellKey? Start { get; init; }

    /// <summary>True when the test is taken everywhere, one place after the other.</summary>
    public bool Round { get; init; }

    /// <summary>The parts of a repair.</summary>
    public ImmutableArray<RepairPart> Parts { get; init; } = [];
}

/// <summary>Makes what is to be done next.</summary>
public sealed class StepViews(Engine engine, Knowledge knowledge)
{
    private const string UnprovenCaution = "The cause is not proven. The maker's procedure, torques and safety rules come first; engine cool and ignition off before hands go in.";

    /// <summary>One suggestion.</summary>
    public StepView Of(NextStepAdvice advice)
    {
        ArgumentNullException.ThrowIfNull(advice);
        return advice.Repair is { } repair
            ? OfRepair(repair, advice.At, advice.Because, advice.Cautions, advice.Unproven)
            : OfTest(knowledge.Test(advice.Test!)!, advice.At, advice.Stage, advice.Because, advice.Minutes, advice.Cautions);
    }

    /// <summary>The repair and the checks after it, as far as they can be taken, of a finding that was taken over without proof: the reasoning itself gives none.</summary>
    public ImmutableArray<StepView> OfUnproven(Conclusion conclusion, RepairOrder order)
    {
        ArgumentNullException.ThrowIfNull(conclusion);
        var at = conclusion.Causes[0].At;
        var cautions = conclusion.Causes.SelectMany(c => knowledge.Cause(c.Cause)?.Repair.Cautions ?? []).Distinct();
        return
        [
            OfRepair(conclusion.Repair, at, "Taken over without proof.", [UnprovenCaution, .. cautions]),
            .. conclusion.Repair.Check.Select(knowledge.Test).OfType<BenchTest>()
                .Select(t => (Test: t, At: t.Compares || t.Scope == TestScope.Engine ? Place.Engine : at))
                .Where(c => !ObstacleView.Standing(order, c.Test, c.At).Any())
                .Select(c => OfTest(c.Test, c.At, Stage.After, "Taken again after the repair, it shows whether the trouble is gone.", c.Test.FirstMinutesOn(engine), c.Test.Cautions)),
        ];
    }

    /// <summary>Any test that fits the engine, as a thing to do: for "done otherwise".</summary>
    public StepView OfAny(BenchTest test, Stage stage)
    {
        ArgumentNullException.ThrowIfNull(test);
        return OfTest(test, Place.Engine, stage, test.Purpose, test.FirstMinutesOn(engine), test.Cautions);
    }

    private static StepView OfRepair(Repair repair, Place at, string why, ImmutableArray<string> cautions, bool unproven = false) => new()
    {
        Key = "repair",
        What = unproven ? "Repair and see (not proven)" : "Repair",
        Where = PlaceWords.Title(at),
        Why = why,
        Minutes = MinutesText(repair.LabourMinutes),
        Tools = "",
        HowTo = [repair.Summary],
        Cautions = cautions,
        Parts = repair.Parts,
    };

    private StepView OfTest(BenchTest test, Place at, Stage stage, string why, double minutes, ImmutableArray<string> cautions)
    {
        var everywhere = at.Kind == PlaceKind.Engine && test.Scope != TestScope.Engine;
        return new StepView
        {
            Key = $"{test.Id}:{PlaceWords.Key(at)}:{stage}",
            What = stage == Stage.After ? $"{test.Title}, after the repair" : test.Title,
            Where = everywhere ? test.Scope == TestScope.Bank ? "Each bank" : "Each cylinder" : PlaceWords.Title(at),
            Why = why,
            Minutes = MinutesText(minutes),
            Tools = ToolsText(test.Tools),
            HowTo = test.HowTo,
            Cautions = cautions,
            Start = new CellKey(test.Id, everywhere ? EntryRound.Around(engine, BenchTest.KindOf(test.Scope), false)[0] : at, stage),
            Round = everywhere,
        };
    }

    /// <summary>Minutes in words: <c>about 5 minutes</c>, <c>about 3 hours</c>.</summary>
    public static string MinutesText(double minutes) => minutes < 1.5 ? "about a minute" : "about " + ReferenceWords.Labour(minutes);

    private static string ToolsText(ImmutableArray<string> tools) => tools.IsEmpty
        ? "no special tool"
        : string.Join(", ", tools.Select(ReferenceWords.Tool)).ToLowerInvariant();
}
