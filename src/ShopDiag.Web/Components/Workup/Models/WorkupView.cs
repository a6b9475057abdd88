using System.Collections.Immutable;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Learning;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Shop;
using ShopDiag.Web.Orders;
using ShopDiag.Web.Components.EngineViews;

namespace ShopDiag.Web.Components.WorkupViews;

/// <summary>The whole page as values, made from one version of the order; the components only draw it.</summary>
public sealed record WorkupView
{
    /// <summary>The order.</summary>
    public required RepairOrder Order { get; init; }

    /// <summary>The engine.</summary>
    public required Engine Engine { get; init; }

    /// <summary>What the readings add up to.</summary>
    public required Assessment Assessment { get; init; }

    /// <summary>The shop's units.</summary>
    public required ShopUnits Units { get; init; }

    /// <summary>The stage whose readings are shown and entered.</summary>
    public required Stage Stage { get; init; }

    /// <summary>True when readings after the repair can be taken: once there is a finding, or the order is that far.</summary>
    public required bool HasAfter { get; init; }

    /// <summary>The heading.</summary>
    public required HeaderView Header { get; init; }

    /// <summary>The marks on the engine plan.</summary>
    public required ImmutableArray<CylinderMark> Marks { get; init; }

    /// <summary>The cylinder sheet.</summary>
    public required SheetView Sheet { get; init; }

    /// <summary>What to do next, best first.</summary>
    public required ImmutableArray<StepView> Steps { get; init; }

    /// <summary>The checks that follow a repair, when the repair is what to do next.</summary>
    public ImmutableArray<StepView> Then => Steps is [{ Start: null }, ..] ? Steps[1..] : [];

    /// <summary>The suggestions after the first, where they are instead of it and not after it.</summary>
    public ImmutableArray<StepView> Others => Steps is [{ Start: not null }, ..] ? Steps[1..] : [];

    /// <summary>What to say when there is nothing to suggest.</summary>
    public string Done => LeftOut.Length == 0 ? Exhausted : $"{Exhausted} {LeftOut}";

    /// <summary>The tests that no step is planned through, in words; empty where there are none.</summary>
    public string LeftOut { get; init; } = "";

    private string Exhausted => !HasReadingsAfter(Order) ? "Nothing more to suggest. Any other test can still be taken."
        : Unread is { Length: > 0 } unread ? $"Nothing wrong in the readings after the repair so far. Not read yet: {string.Join(", ", unread.Select(c => $"cylinder {c}"))}."
        : "The readings after the repair show nothing wrong any more. The order can move on.";

    private ImmutableArray<int> Unread => [.. Assessment.Cylinders.Where(c => c.State == CylinderCondition.Unknown).Select(c => c.Cylinder)];

    /// <summary>What it could be.</summary>
    public required CauseListView Causes { get; init; }

    /// <summary>Readings that speak against each other.</summary>
    public required ImmutableArray<ContradictionView> Contradictions { get; init; }

    /// <summary>What has been found.</summary>
    public required FindingView Finding { get; init; }

    /// <summary>Makes the page. <paramref name="stage"/> null chooses the stage that the work has come to, <paramref name="priors"/> null are those shipped.</summary>
    public static WorkupView Of(
        RepairOrder order, Engine engine, Assessment assessment, Knowledge knowledge, ShopSettings settings, ShopClock clock, Stage? stage = null, LearnedPriors? priors = null)
    {
        ArgumentNullException.ThrowIfNull(order);
        ArgumentNullException.ThrowIfNull(assessment);
        ArgumentNullException.ThrowIfNull(knowledge);
        var units = ShopUnits.Of(settings);
        var causes = CauseViews.Of(assessment, knowledge, priors);
        var hasAfter = order.Finding is not null || order.Stage.HasReached(OrderStage.InRepair) || CellHistory.CountingOn(order).Any(r => r.Reading.Stage == Stage.After);
        var shown = hasAfter ? stage ?? (order.Stage.HasReached(OrderStage.RepairCheck) ? Stage.After : Stage.Before) : Stage.Before;
        return new WorkupView
        {
            Order = order,
            Engine = engine,
            Assessment = assessment,
            Units = units,
            Stage = shown,
            HasAfter = hasAfter,
            Header = HeaderView.Of(order, assessment, knowledge),
            Marks = [.. assessment.Cylinders.Select(CylinderMark.Of)],
            Sheet = SheetViews.Of(order, engine, assessment, knowledge, units, shown),
            Steps = Remaining(order, StepsOf(order, engine, assessment, knowledge)),
            // Whoever checks a repair misses no tool that the search would have liked to have.
            LeftOut = WorkupViews.LeftOut.InWords(order, engine, HasReadingsAfter(order) ? new ShopSetup() : settings.ToSetup(), knowledge),
            Causes = causes,
            Contradictions = [.. assessment.Contradictions.Select(c => ContradictionView.Of(c, knowledge))],
            Finding = FindingViews.Of(order.Finding, assessment, causes, knowledge, clock),
        };
    }

    private static ImmutableArray<StepView> StepsOf(RepairOrder order, Engine engine, Assessment assessment, Knowledge knowledge)
    {
        var steps = new StepViews(engine, knowledge);
        return order.Finding is { UnprovenReason: not null } unproven && assessment.Conclusion is null && !HasReadingsAfter(order)
            ? steps.OfUnproven(unproven.Conclusion, order)
            : [.. assessment.Next.Select(steps.Of)];
    }

    // Once the order says that it is repaired, the repair is no longer what to do next, although no reading after it is there yet, or none of the checks can be taken.
    private static ImmutableArray<StepView> Remaining(RepairOrder order, ImmutableArray<StepView> steps) =>
        order.Stage.HasReached(OrderStage.RepairCheck) && steps is [{ Start: null }, .. var checks] && (checks.Length > 0 || !HasReadingsAfter(order)) ? checks : steps;

    private static bool HasReadingsAfter(RepairOrder order) => CellHistory.CountingOn(order).Any(r => r.Reading.Stage == Stage.After);
}

/// <summary>The heading of the page.</summary>
public sealed record HeaderView
{
    /// <summary>The car in words.</summary>
    public required string Car { get; init; }

    /// <summary>The customer's words, or what to say where there are none.</summary>
    public required string Concern { get; init; }

    /// <summary>The warning lamp in words, or empty.</summary>
    public required string LampText { get; init; }

    /// <summary>True when the lamp flashes: said strongly.</summary>
    public required bool Flashing { get; init; }

    /// <summary>The codes that the car came in with.</summary>
    public required string Codes { get; init; }

    /// <summary>Cautions and remarks on the whole workup.</summary>
    public required ImmutableArray<string> Warnings { get; init; }

    /// <summary>Bench minutes so far, and those authorised; empty before the first reading.</summary>
    public required string Bench { get; init; }

    /// <summary>True when the authorised time is spent or the next step would spend it.</summary>
    public required bool OverTime { get; init; }

    /// <summary>What to do about the time; empty while there is enough.</summary>
    public string TimeWarning { get; init; } = "";

    /// <summary>Makes the heading.</summary>
    public static HeaderView Of(RepairOrder order, Assessment assessment, Knowledge knowledge)
    {
        ArgumentNullException.ThrowIfNull(order);
        ArgumentNullException.ThrowIfNull(assessment);
        ArgumentNullException.ThrowIfNull(knowledge);
        var time = DiagnosticTime.Of(order, assessment, knowledge);
        return new HeaderView
        {
            Car = OrderLines.Car(order),
            Concern = order.ConcernText.Length == 0 ? "No concern written down." : order.ConcernText,
            LampText = LampWords(order.Concern.Lamp),
            Flashing = order.Concern.Lamp == Lamp.Flashing,
            Codes = string.Join(" ", order.Concern.Codes),
            Warnings = assessment.Warnings,
            Bench = time.InWords,
            OverTime = time.Warning.Length > 0,
            TimeWarning = time.Warning,
        };
    }

    private static string LampWords(Lamp lamp) => lamp switch
    {
        Lamp.Unknown => "",
        Lamp.Off => "Lamp dark",
        Lamp.Steady => "Lamp steady",
        Lamp.Flashing => "Lamp flashing",
        _ => throw new InvalidOperationException($"Unknown lamp {lamp}."),
    };
}

/// <summary>Readings that speak against each other.</summary>
/// <param name="Readings">The readings in words.</param>
/// <param name="Because">Why they cannot both be right.</param>
/// <param name="Retake">Title of the test to take again.</param>
/// <param name="Start">Its cell.</param>
public sealed record ContradictionView(ImmutableArray<string> Readings, string Because, string Retake, CellKey Start)
{
    /// <summary>Makes it.</summary>
    public static ContradictionView Of(Contradiction contradiction, Knowledge knowledge)
    {
        ArgumentNullException.ThrowIfNull(contradiction);
        ArgumentNullException.ThrowIfNull(knowledge);
        return new(
            [.. contradiction.Readings.Select(r => CauseViews.Found(r.Test, r.Test, r.At, r.Outcome, knowledge))],
            contradiction.Because, knowledge.Test(contradiction.Retake)?.Title ?? contradiction.Retake, new CellKey(contradiction.Retake, contradiction.At));
    }
}
