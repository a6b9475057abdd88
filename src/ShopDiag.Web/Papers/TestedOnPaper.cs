using System.Collections.Immutable;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Reports.Models;
using ShopDiag.Web.Components.WorkupViews;

namespace ShopDiag.Web.Papers;

/// <summary>What was tested, as the customer report tells it.</summary>
internal sealed class TestedOnPaper(Knowledge knowledge, ShopUnits units)
{
    // A picture says more than figures where most cylinders were measured and can be compared.
    private const int LeastBars = 3;

    /// <summary>Every test that came to something, in the order of the sheet.</summary>
    public ImmutableArray<TestOnPaper> Tests(Workup workup, Assessment assessment) =>
    [
        .. knowledge.Tests
            .Select(t => new TestOnPaper(t.Title, t.Plainly, [.. Readings(t, assessment, workup)]))
            .Where(t => !t.Readings.IsEmpty),
    ];

    /// <summary>Bars of the first measure that compares the cylinders and has a unit to name.</summary>
    public ImmutableArray<MeasureChart> Charts(Assessment assessment) =>
    [
        .. knowledge.Tests.Where(t => t.Compares && CellFigure.UnitOf(t, units).Length > 0)
            .Select(t => Chart(t, [.. assessment.Findings.Where(f => f.Test == t.Id && f.Stage == Stage.Before && f.Measure is not null && f.At.Kind == PlaceKind.Cylinder)]))
            .OfType<MeasureChart>()
            .Take(1),
    ];

    // Codes that name nothing wrong at a place would fill a page with "no code"; everything else is told.
    private bool Speaks(Finding finding) => finding.Aspect == finding.Test || !OutcomeOf(finding).Good;

    // A test of several sides of which none speaks still was taken: it has found nothing (a drive on which it did not misfire).
    private IEnumerable<ReadingOnPaper> Readings(BenchTest test, Assessment assessment, Workup workup)
    {
        var findings = assessment.Findings.Where(f => f.Test == test.Id).ToArray();
        var speaking = findings.Where(Speaks).ToArray();
        return findings.Length > 0 && speaking.Length == 0
            ? workup.Readings.Where(r => r.Test == test.Id).GroupBy(r => (r.At, r.Stage)).Select(g =>
                new ReadingOnPaper(g.Key.At, "", OutcomeMark.NoneWord(test, g.Last()) ?? OutcomeMark.NothingNoted, Verdict.Good))
            : speaking.Select(f => Reading(test, f, workup));
    }

    private ReadingOnPaper Reading(BenchTest test, Finding finding, Workup workup)
    {
        var readings = workup.Readings.Where(r => r.Test == test.Id && r.At == finding.At && r.Stage == finding.Stage).ToImmutableArray();
        var figure = finding.Aspect == test.Id ? CellFigure.Of(test, readings, finding, units) : "";
        var unit = figure.Length > 0 && !figure.Contains('/', StringComparison.Ordinal) ? CellFigure.UnitOf(test, units).Replace(", ", " ", StringComparison.Ordinal) : "";
        var outcome = OutcomeOf(finding);
        return new ReadingOnPaper(finding.At, unit.Length > 0 ? $"{figure} {unit}" : figure, outcome.Word, VerdictOf(finding, outcome));
    }

    private MeasureChart? Chart(BenchTest test, Finding[] findings)
    {
        if (findings.Length < LeastBars)
        {
            return null;
        }

        var unit = CellFigure.UnitOf(test, units);
        var bars = findings.Select(f => new MeasureBar(f.At, Math.Max(0, f.Measure!.Value), CellFigure.Of(test, [new Reading { Test = test.Id, At = f.At, Value = new ReadingValue([]) }], f, units), VerdictOf(f, OutcomeOf(f))));
        return new MeasureChart(unit.Length > 0 ? $"{test.Title}, {unit}" : test.Title, [.. bars]);
    }

    private (string Word, bool Good, bool Bad) OutcomeOf(Finding finding)
    {
        if (finding.Outcome is not { } id)
        {
            return ("cannot tell", false, false);
        }

        var outcome = knowledge.Aspect(finding.Aspect)!.Value.Aspect.Outcomes.First(o => o.Id == id);
        return (outcome.Word, outcome.Good, outcome.IsTrouble);
    }

    private static Verdict VerdictOf(Finding finding, (string Word, bool Good, bool Bad) outcome) =>
        finding.Outcome is null ? Verdict.Neutral : outcome.Good ? Verdict.Good : outcome.Bad ? Verdict.Bad : Verdict.Neutral;
}
