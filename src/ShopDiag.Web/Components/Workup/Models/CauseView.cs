using System.Collections.Immutable;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Learning;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Web.Shop;

namespace ShopDiag.Web.Components.WorkupViews;

/// <summary>What it could be: the causes and the share of what is not on the list.</summary>
/// <param name="Causes">Most likely first.</param>
/// <param name="Unlisted">Probability that it is something else.</param>
/// <param name="Remark">What to make of the list while nothing speaks yet, or empty.</param>
public sealed record CauseListView(ImmutableArray<CauseView> Causes, double Unlisted, string Remark)
{
    /// <summary>Where the priors come from when the shop's own cases are among it; empty when they are as shipped.</summary>
    public string PriorSource { get; init; } = "";
}

/// <summary>One cause at one place.</summary>
public sealed record CauseView
{
    /// <summary>Cause and place: the same from one assessment to the next.</summary>
    public required string Key { get; init; }

    /// <summary>The cause's id.</summary>
    public required string Cause { get; init; }

    /// <summary>Where.</summary>
    public required Place At { get; init; }

    /// <summary>The cause in the trade's words.</summary>
    public required string Title { get; init; }

    /// <summary>Probability from 0 to 1: the length of the bar.</summary>
    public required double Probability { get; init; }

    /// <summary>True when proven.</summary>
    public required bool Proven { get; init; }

    /// <summary>How common it is to begin with, in words.</summary>
    public required string Prior { get; init; }

    /// <summary>Who says so.</summary>
    public string PriorFrom { get; init; } = "common practice";

    /// <summary>The readings for it, and an earlier repair where it is for it, strongest first.</summary>
    public required ImmutableArray<EvidenceView> For { get; init; }

    /// <summary>The same against it.</summary>
    public required ImmutableArray<EvidenceView> Against { get; init; }

    /// <summary>How likely, in plain words.</summary>
    public string Word => LikelyWords.For(Probability);

    /// <summary>How likely, in percent.</summary>
    public string Percent => LikelyWords.Percent(Probability);
}

/// <summary>What one finding, or an earlier repair, does to a cause.</summary>
/// <param name="Found">Which reading came to what: <c>Spark output, cylinder 4: none</c>.</param>
/// <param name="Weight">How much, in words.</param>
/// <param name="Bits">The same as a number.</param>
/// <param name="Factor">The same as odds.</param>
/// <param name="Because">Why.</param>
public sealed record EvidenceView(string Found, string Weight, string Bits, string Factor, string Because);

/// <summary>Makes the list of what it could be.</summary>
public static class CauseViews
{
    /// <summary>How many causes are shown at first.</summary>
    public const int AtFirst = 6;

    /// <summary>Causes below this are named last, on request: a twentieth of a percent is ruled out for the bench.</summary>
    public const double Least = 0.0005;

    private const string OwnPriors = "common practice, and this shop's own cases";

    private const string NothingRead =
        "Nothing has been read yet. The list only shows how common each cause is on such an engine; it says nothing of this car.";

    /// <summary>The list. <paramref name="priors"/> are the shop's own, where the assessment was made with them.</summary>
    public static CauseListView Of(Assessment assessment, Knowledge knowledge, LearnedPriors? priors = null)
    {
        ArgumentNullException.ThrowIfNull(assessment);
        ArgumentNullException.ThrowIfNull(knowledge);
        return new CauseListView(
            [.. assessment.Causes.Select(c => priors is null ? Of(c, knowledge) : Of(c, knowledge) with { PriorFrom = OwnPriors })],
            assessment.Unlisted,
            assessment.Findings.Any(f => f.Outcome is not null) ? "" : NothingRead)
        {
            PriorSource = priors is null ? "" : LearningWords.Source(priors),
        };
    }

    /// <summary>A finding in words: test, place, outcome.</summary>
    public static string Found(string test, string aspect, Place at, string outcome, Knowledge knowledge)
    {
        ArgumentNullException.ThrowIfNull(knowledge);
        var word = knowledge.Aspect(aspect)?.Aspect.Outcomes.FirstOrDefault(o => o.Id == outcome)?.Word ?? outcome;
        return $"{knowledge.Test(test)?.Title ?? test}, {at}: {word}";
    }

    private static CauseView Of(RankedCause ranked, Knowledge knowledge) => new()
    {
        Key = $"{ranked.Cause}:{PlaceWords.Key(ranked.At)}",
        Cause = ranked.Cause,
        At = ranked.At,
        Title = knowledge.Cause(ranked.Cause)?.Title ?? ranked.Cause,
        Probability = ranked.Probability,
        Proven = ranked.Proven,
        Prior = LikelyWords.OneIn(Math.Pow(2, ranked.PriorBits)),
        For = [.. Reasons(ranked, knowledge).Where(r => r.Bits >= 0).Select(r => r.View)],
        Against = [.. Reasons(ranked, knowledge).Where(r => r.Bits < 0).Select(r => r.View)],
    };

    // What was done on an earlier order stands among the readings, by its strength.
    private static IEnumerable<(double Bits, EvidenceView View)> Reasons(RankedCause ranked, Knowledge knowledge) =>
        ranked.Evidence.Select(e => (e.Bits, View: Of(e, knowledge))).Concat(ranked.Earlier.Select(e => (e.Bits, View: Of(e)))).OrderByDescending(r => Math.Abs(r.Bits));

    private static EvidenceView Of(EarlierEffect effect) =>
        new($"Repaired before, {effect.Order}", WeightWords.Side(effect.Bits), WeightWords.Bits(effect.Bits), WeightWords.Factor(effect.Bits), effect.Because);

    private static EvidenceView Of(Effect effect, Knowledge knowledge) => new(
        (effect.Stage == Stage.After ? "After the repair: " : "") + Found(effect.Test, effect.Aspect, effect.At, effect.Outcome, knowledge),
        WeightWords.Side(effect.Bits), WeightWords.Bits(effect.Bits), WeightWords.Factor(effect.Bits), effect.Because);
}
