using System.Collections.Immutable;
using System.Globalization;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Storage.Orders;
using ShopDiag.Web.Orders;

namespace ShopDiag.Web.Components.WorkupViews;

/// <summary>What has been found: taken over, proven and waiting to be, or not proven yet.</summary>
public sealed record FindingView
{
    /// <summary>The finding on the order, or null.</summary>
    public ConclusionView? Taken { get; init; }

    /// <summary>When and by whom it was taken over, in words; empty when none was.</summary>
    public string TakenWhen { get; init; } = "";

    /// <summary>Why it was taken over without proof, or null.</summary>
    public string? UnprovenReason { get; init; }

    /// <summary>A proven conclusion that is not on the order yet, or null.</summary>
    public ConclusionView? Proven { get; init; }

    /// <summary>What could be taken over without proof, most likely first; empty where a proof or a finding is there.</summary>
    public ImmutableArray<CauseView> Unproven { get; init; } = [];
}

/// <summary>A conclusion ready to be shown.</summary>
/// <param name="Conclusion">What it was made from.</param>
/// <param name="Causes">The causes with their places.</param>
/// <param name="Proof">The readings that prove them: what was found, and what it shows.</param>
public sealed record ConclusionView(Conclusion Conclusion, ImmutableArray<string> Causes, ImmutableArray<(string Found, string Shows)> Proof)
{
    /// <summary>The repair in a sentence.</summary>
    public string Repair => Conclusion.Repair.Summary;

    /// <summary>The parts, one line each: <c>1 Ignition coil, cylinder 4</c>.</summary>
    public ImmutableArray<string> Parts => [.. Conclusion.Repair.Parts.Select(PartText)];

    /// <summary>A line of a parts list in words.</summary>
    public static string PartText(RepairPart part)
    {
        ArgumentNullException.ThrowIfNull(part);
        var words = string.Create(CultureInfo.InvariantCulture, $"{part.Quantity} {part.Part}, {part.At}");
        return part.Together ? words + ", replaced together" : words;
    }
}

/// <summary>Makes the finding.</summary>
public static class FindingViews
{
    /// <summary>How many causes are offered for going on without proof.</summary>
    public const int Offered = 4;

    /// <summary>Where the workup stands between suspicion and finding.</summary>
    public static FindingView Of(OrderFinding? taken, Assessment assessment, CauseListView causes, Knowledge knowledge, ShopClock clock)
    {
        ArgumentNullException.ThrowIfNull(assessment);
        ArgumentNullException.ThrowIfNull(causes);
        return new FindingView
        {
            Taken = taken is null ? null : Of(taken.Conclusion, knowledge),
            TakenWhen = taken is null ? "" : When(taken, clock),
            UnprovenReason = taken?.UnprovenReason,
            Proven = assessment.Conclusion is { } proven && !IsSame(proven, taken) ? Of(proven, knowledge) : null,
            Unproven = assessment.Conclusion is null && taken is null ? [.. causes.Causes.Take(Offered)] : [],
        };
    }

    /// <summary>The conclusion of going on without proof: one cause, no proof, its repair.</summary>
    public static Conclusion WithoutProof(CauseView cause, Engine engine, Knowledge knowledge)
    {
        ArgumentNullException.ThrowIfNull(cause);
        ArgumentNullException.ThrowIfNull(knowledge);
        var known = knowledge.Cause(cause.Cause) ?? throw new ArgumentException($"There is no cause '{cause.Cause}'.", nameof(cause));
        return new Conclusion([new ProvenCause(cause.Cause, cause.At)], [], RepairPlan.For(engine, [(known, cause.At)]));
    }

    private static ConclusionView Of(Conclusion conclusion, Knowledge knowledge) => new(
        conclusion,
        [.. conclusion.Causes.Select(c => $"{knowledge.Cause(c.Cause)?.Title ?? c.Cause}, {c.At}")],
        [.. conclusion.Proof.Select(p => (CauseViews.Found(p.Test, p.Test, p.At, p.Outcome, knowledge), p.Because))]);

    private static bool IsSame(Conclusion proven, OrderFinding? taken) =>
        taken is { UnprovenReason: null } && proven.Causes.ToHashSet().SetEquals(taken.Conclusion.Causes);

    private static string When(OrderFinding taken, ShopClock clock)
    {
        var at = clock.Say(taken.At);
        return taken.By.Length == 0 ? at : $"{at} by {taken.By}";
    }
}
