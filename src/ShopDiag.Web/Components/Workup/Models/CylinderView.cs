using System.Collections.Immutable;
using ShopDiag.Diagnosis;
using ShopDiag.Web.Components.EngineViews;

namespace ShopDiag.Web.Components.WorkupViews;

/// <summary>What is known of one cylinder.</summary>
/// <param name="Cylinder">Its number.</param>
/// <param name="Word">How it pulls, in a word; empty when nothing is known.</param>
/// <param name="Because">The reading that says so.</param>
/// <param name="Readings">What was found there.</param>
/// <param name="Causes">The likeliest causes there, most likely first.</param>
public sealed record CylinderView(
    int Cylinder, string Word, string Because, ImmutableArray<CylinderReading> Readings, ImmutableArray<CauseView> Causes)
{
    private const int MostCauses = 3;

    /// <summary>Causes below one percent are no talk for one cylinder.</summary>
    private const double Least = 0.01;

    /// <summary>The tests of a cylinder that cannot be taken here, by their titles.</summary>
    public ImmutableArray<string> NotPossible { get; init; } = [];

    /// <summary>Makes it from the page.</summary>
    public static CylinderView Of(int cylinder, WorkupView view, Knowledge knowledge)
    {
        ArgumentNullException.ThrowIfNull(view);
        ArgumentNullException.ThrowIfNull(knowledge);
        var mark = view.Marks.FirstOrDefault(m => m.Cylinder == cylinder) ?? CylinderMark.Blank(cylinder);
        return new CylinderView(
            cylinder, mark.Word, mark.Word.Length == 0 ? "How it pulls is not known yet." : mark.Because,
            [.. view.Assessment.Findings.Where(f => f.At == Place.Cylinder(cylinder) && f.Stage == view.Stage).Select(f => CylinderReading.Of(f, view, knowledge))],
            [.. view.Causes.Causes.Where(c => c.Probability >= Least && view.Engine.CylindersAt(c.At).Contains(cylinder) && c.At.Kind is PlaceKind.Cylinder or PlaceKind.Pair).Take(MostCauses)])
        {
            NotPossible =
            [
                .. knowledge.Tests.Where(t => t.Fits(view.Engine) && t.Takes(PlaceKind.Cylinder) && ObstacleView.Standing(view.Order, t, Place.Cylinder(cylinder)).Any()).Select(t => t.Title),
            ],
        };
    }
}

/// <summary>One finding at a cylinder.</summary>
/// <param name="Key">The cell it was read in.</param>
/// <param name="Found">Test and outcome in words.</param>
/// <param name="Mark">The outcome as cells show it.</param>
/// <param name="Because">Which rule decided on what numbers.</param>
public sealed record CylinderReading(CellKey Key, string Found, OutcomeMark Mark, string Because)
{
    internal static CylinderReading Of(Diagnosis.Workups.Finding finding, WorkupView view, Knowledge knowledge)
    {
        var (test, aspect) = knowledge.Aspect(finding.Aspect)!.Value;
        var mark = OutcomeMark.Of(finding, aspect);
        // What speaks of the cylinder may have been read elsewhere: codes are read at the engine.
        var at = test.Takes(finding.At.Kind) ? finding.At : test.PlacesOn(view.Engine)[0];
        return new(new CellKey(finding.Test, at, finding.Stage), $"{test.Title}: {mark.Word}", mark, finding.Because);
    }
}
