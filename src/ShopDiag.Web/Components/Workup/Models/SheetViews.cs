using System.Collections.Immutable;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Storage.Orders;

namespace ShopDiag.Web.Components.WorkupViews;

/// <summary>Makes the cylinder sheet of one stage from the order's readings and what they came to.</summary>
public sealed class SheetViews
{
    private readonly RepairOrder _order;
    private readonly Engine _engine;
    private readonly Knowledge _knowledge;
    private readonly ShopUnits _units;
    private readonly Stage _stage;
    private readonly ILookup<CellKey, Reading> _readings;
    private readonly ILookup<string, Finding> _findings;
    private readonly ImmutableArray<string> _codes;

    private SheetViews(RepairOrder order, Engine engine, Assessment assessment, Knowledge knowledge, ShopUnits units, Stage stage)
    {
        (_order, _engine, _knowledge, _units, _stage) = (order, engine, knowledge, units, stage);
        _readings = CellHistory.CountingOn(order).ToLookup(r => new CellKey(r.Reading.Test, r.Reading.At, r.Reading.Stage), r => r.Reading);
        _findings = assessment.Findings.Where(f => f.Stage == stage).ToLookup(f => f.Test);
        _codes = stage == Stage.Before ? order.Concern.Codes : [];
    }

    /// <summary>The sheet.</summary>
    public static SheetView Of(RepairOrder order, Engine engine, Assessment assessment, Knowledge knowledge, ShopUnits units, Stage stage)
    {
        ArgumentNullException.ThrowIfNull(order);
        ArgumentNullException.ThrowIfNull(engine);
        ArgumentNullException.ThrowIfNull(assessment);
        ArgumentNullException.ThrowIfNull(knowledge);
        var views = new SheetViews(order, engine, assessment, knowledge, units, stage);
        return new SheetView(
            [.. engine.Banks.Select((cylinders, b) => new SheetBank(b + 1, cylinders))],
            [.. knowledge.Tests.Where(t => t.Fits(engine)).GroupBy(t => t.Chapter).Select(c => new SheetChapter(c.Key, [.. c.SelectMany(views.Rows)]))]);
    }

    private IEnumerable<SheetRow> Rows(BenchTest test) => test.AlsoScopes.Prepend(test.Scope).Distinct().Select(scope => Row(test, scope));

    private SheetRow Row(BenchTest test, TestScope scope)
    {
        var cells = Places(scope).Select(p => Cell(test, scope, p)).ToImmutableArray();
        return new SheetRow(
            $"{test.Id}:{scope}", test.AlsoScopes.IsEmpty ? test.Title : $"{test.Title}, {ScopeWords(scope)}", CellFigure.UnitOf(test, _units), cells,
            CannotTell.Remarks(FindingsAt(test, scope, null), cells.Length));
    }

    private SheetCell Cell(BenchTest test, TestScope scope, Place at)
    {
        var key = new CellKey(test.Id, at, _stage);
        var readings = _readings[key].ToImmutableArray();
        var findings = FindingsAt(test, scope, at).ToImmutableArray();
        var cameInWith = readings.IsEmpty && !findings.IsEmpty && test.Fields.Any(f => f.Kind == FieldKind.Codes) ? _codes : [];
        var barred = ObstacleView.Standing(_order, test, at).Any();
        return new SheetCell(
            key, Span(at),
            cameInWith.IsEmpty ? CellFigure.Of(test, readings, findings.FirstOrDefault(f => f.Aspect == test.Id), _units) : string.Join(" ", cameInWith),
            barred && findings.IsEmpty && readings.IsEmpty ? new OutcomeMark(ObstacleView.Word, ObstacleView.Pattern) : Mark(test, findings, readings),
            readings.Length, findings.Any(f => f.TrialsDisagree), readings.Any(r => r.Note is not null)) { NotPossible = barred };
    }

    /// <summary>
    /// The findings of a test at a place (null: anywhere of that scope). What is read at one place and speaks of others, as trouble codes do,
    /// is shown where it is read.
    /// </summary>
    private IEnumerable<Finding> FindingsAt(BenchTest test, TestScope scope, Place? at) => test.Aspects.Any(a => a.Scope != test.Scope)
        ? _findings[test.Id]
        : _findings[test.Id].Where(f => at is null ? f.At.Kind == BenchTest.KindOf(scope) : f.At == at);

    private OutcomeMark Mark(BenchTest test, ImmutableArray<Finding> findings, ImmutableArray<Reading> readings)
    {
        if (findings.IsEmpty)
        {
            return readings.IsEmpty ? OutcomeMark.Blank : OutcomeMark.Unjudged(test, readings[^1]);
        }

        var marks = findings.Select(f => (Finding: f, Mark: OutcomeMark.Of(f, AspectOf(f)))).ToArray();
        if (marks.Length == 1)
        {
            return marks[0].Mark;
        }

        var worst = marks.Max(m => OutcomeMark.Rank(m.Mark.Pattern));
        var pressing = marks.Where(m => OutcomeMark.Rank(m.Mark.Pattern) == worst).ToArray();
        return worst <= OutcomeMark.Rank("solid")
            ? new OutcomeMark(readings.IsEmpty ? OutcomeMark.NothingNoted : OutcomeMark.NoneWord(test, readings[^1]) ?? OutcomeMark.NothingNoted, "solid")
            : new OutcomeMark(string.Join(", ", pressing.Select(m => Spoken(m.Finding, m.Mark)).Distinct()), pressing[0].Mark.Pattern);
    }

    private static string Spoken(Finding finding, OutcomeMark mark) =>
        finding.At.Kind == PlaceKind.Engine ? mark.Word : $"{mark.Word}, {finding.At}";

    private Aspect AspectOf(Finding finding) => _knowledge.Aspect(finding.Aspect)!.Value.Aspect;

    private IEnumerable<Place> Places(TestScope scope) => scope == TestScope.Cylinder
        ? _engine.Banks.SelectMany(b => b).Select(Place.Cylinder)
        : BenchTest.PlacesOn(_engine, scope);

    private int Span(Place at) => _engine.CylindersAt(at).Count();

    private static string ScopeWords(TestScope scope) => scope switch
    {
        TestScope.Cylinder => "at each cylinder",
        TestScope.Bank => "at a bank",
        TestScope.Engine => "at the engine",
        _ => throw new InvalidOperationException($"Unknown scope {scope}."),
    };
}
