using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Reports.Layout;
using ShopDiag.Reports.Models;

namespace ShopDiag.Reports.Writing;

/// <summary>
/// Readings as tables with the tests down and the cylinders across in bank order. An engine with more cylinders than fit beside
/// each other gets a table for each group of banks; a reading of a bank or the engine spans the cylinders it speaks for.
/// </summary>
internal sealed class ReadingTables
{
    private const double NarrowestTest = 112;
    private const double WidestTest = 246;
    private const double SheetTest = 150;
    private const double NarrowestColumn = 58;
    private const double WidestColumn = 84;

    private const double WritingRow = 19;
    private const double NarrowestToWriteIn = 44;

    private const int MostLetters = 40; // A longer word is broken in any case.

    private readonly Engine _engine;
    private readonly PaperBuilder _paper;
    private readonly TableLook _look;
    private readonly int _mostColumns;
    private readonly IReadOnlyDictionary<TestOnPaper, TestScope>? _room;

    private ReadingTables(Engine engine, PaperBuilder paper, TableLook look, int mostColumns, IReadOnlyDictionary<TestOnPaper, TestScope>? room) =>
        (_engine, _paper, _look, _mostColumns, _room) = (engine, paper, look, mostColumns, room);

    /// <summary>Adds the tables to a paper; without an engine, one list by place.</summary>
    public static void Add(PaperBuilder paper, IReadOnlyList<TestOnPaper> tests, Engine? engine)
    {
        if (tests.Count == 0)
        {
            return;
        }

        if (engine is null)
        {
            AddList(paper, tests);
        }
        else
        {
            new ReadingTables(engine, paper, TableLook.Ruled(paper.Set.Look), mostColumns: 6, room: null).AddGroups(tests);
        }
    }

    /// <summary>
    /// Adds tables with room to write for each test in its scope, as many cylinders beside each other as the words of the readings and a
    /// pen have room for.
    /// </summary>
    public static void AddSheet(PaperBuilder paper, IReadOnlyList<(TestOnPaper Test, TestScope Scope)> tests, Engine engine)
    {
        if (tests.Count == 0)
        {
            return;
        }

        var look = TableLook.Ruled(paper.Set.Look) with { LeastRow = WritingRow };
        var room = tests.ToDictionary(t => t.Test, t => t.Scope, (IEqualityComparer<TestOnPaper>)ReferenceEqualityComparer.Instance);
        TestOnPaper[] rows = [.. tests.Select(t => t.Test)];
        var column = Math.Max(NarrowestToWriteIn, WidestWord(paper, rows) + look.Left + look.Right + 0.5);
        var most = Math.Max(1, (int)((paper.Width - SheetTest) / column));
        new ReadingTables(engine, paper, look, most, room).AddGroups(rows);
    }

    private static void AddList(PaperBuilder paper, IReadOnlyList<TestOnPaper> tests)
    {
        Cell[] header = [Cell.Head("Test", HeaderScope.Column), Cell.Head("Where", HeaderScope.Column), Cell.Head("Reading", HeaderScope.Column)];
        var rows = tests.SelectMany(test => test.Readings.IsEmpty
            ? [[TestCell(test, inFull: true), Cell.Of("–"), Cell.Of("–")]]
            : test.Readings.Select((reading, i) => (Cell[])[TestCell(test, inFull: i == 0), Cell.Of(Wording.Capital(reading.At.ToString())), WideCell([reading], 1, "")]));
        paper.Add(new Table([200, 110, paper.Width - 310], header, rows, TableLook.Ruled(paper.Set.Look), paper.Set) { Before = 6 });
    }

    private void AddGroups(IReadOnlyList<TestOnPaper> tests)
    {
        var groups = Groups();
        var testWidth = _room is null ? Math.Clamp(_paper.Width - (groups.Max(g => g.Count) * ColumnWidth(tests)), NarrowestTest, WidestTest) : SheetTest;
        for (var g = 0; g < groups.Count; g++)
        {
            var columns = groups[g];
            var rows = tests.SelectMany(test => Rows(test, columns, isFirst: columns == groups[0])).ToList();
            if (rows.Count > 0)
            {
                var widths = new[] { testWidth }.Concat(Enumerable.Repeat((_paper.Width - testWidth) / columns.Count, columns.Count));
                var header = new[] { Cell.Head("Test", HeaderScope.Column) }.Concat(columns.Select(c => Cell.Head(_room is null ? $"Cylinder {c}" : $"Cyl. {c}", HeaderScope.Column)));
                _paper.Add(new Table([.. widths], [.. header], rows, _look, _paper.Set) { Before = 6 });
            }
        }
    }

    /// <summary>As wide as the longest word of a cylinder's readings wants, within bounds: "contributing" must not be broken for want of a point.</summary>
    private double ColumnWidth(IReadOnlyList<TestOnPaper> tests)
    {
        return Math.Clamp(WidestWord(_paper, tests) + _look.Left + _look.Right + 0.5, NarrowestColumn, WidestColumn);
    }

    private static double WidestWord(PaperBuilder paper, IEnumerable<TestOnPaper> tests)
    {
        var face = new Face(paper.Set.Look.Table, Bold: true);
        return tests.SelectMany(t => t.Readings).Where(r => r.At.Kind is PlaceKind.Cylinder)
            .SelectMany(r => paper.Set.Printable.Of(r.Text + " " + r.Outcome).Split([' ', '\n']))
            .Where(word => word.Length < MostLetters)
            .Select(word => paper.Set.Width(word, face))
            .DefaultIfEmpty()
            .Max();
    }

    /// <summary>The cylinders of each table: whole banks as long as they fit, a longer bank in even parts.</summary>
    private List<List<int>> Groups()
    {
        var groups = new List<List<int>>();
        foreach (var bank in _engine.Banks)
        {
            if (groups.Count > 0 && groups[^1].Count + bank.Length <= _mostColumns)
            {
                groups[^1].AddRange(bank);
                continue;
            }

            var parts = (bank.Length + _mostColumns - 1) / _mostColumns;
            groups.AddRange(bank.Chunk((bank.Length + parts - 1) / parts).Select(part => part.ToList()));
        }

        return groups;
    }

    /// <summary>The rows of a test in one table: cylinders (a single one in full width), banks, then whatever speaks for no column.</summary>
    private IEnumerable<IReadOnlyList<Cell>> Rows(TestOnPaper test, List<int> columns, bool isFirst)
    {
        var inFull = isFirst;
        foreach (var cells in ReadingRows(test, columns, isFirst))
        {
            yield return [TestCell(test, inFull, _room is null ? "\n" : " "), .. cells];
            inFull = false;
        }
    }

    private IEnumerable<IEnumerable<Cell>> ReadingRows(TestOnPaper test, List<int> columns, bool isFirst)
    {
        var byPlace = test.Readings.ToLookup(r => r.At);
        var room = RoomFor(test);
        var taken = columns.Where(c => byPlace.Contains(Place.Cylinder(c))).ToList();
        if (room is null && taken is [var only] && columns.Count > 2)
        {
            yield return [WideCell([.. byPlace[Place.Cylinder(only)]], columns.Count, $"Cylinder {only}:")];
        }
        else if (room is TestScope.Cylinder || taken.Count > 0)
        {
            yield return columns.Select(c => NarrowCell([.. byPlace[Place.Cylinder(c)]], Nothing));
        }

        var banks = columns.GroupBy(_engine.BankOf).ToList();
        if (room is TestScope.Bank || banks.Any(b => byPlace.Contains(Place.Bank(b.Key))))
        {
            yield return banks.Select(b => byPlace.Contains(Place.Bank(b.Key)) || _room is null
                ? WideCell([.. byPlace[Place.Bank(b.Key)]], b.Count(), $"Bank {b.Key}:")
                : Cell.Of($"Bank {b.Key}:", b.Count()));
        }

        if (!isFirst)
        {
            yield break;
        }

        if (room is TestScope.Engine && !byPlace.Contains(Place.Engine))
        {
            yield return [Cell.Of("", columns.Count)];
        }

        foreach (var elsewhere in byPlace.Where(place => !HasColumn(place.Key)))
        {
            yield return [WideCell([.. elsewhere], columns.Count, elsewhere.Key == Place.Engine ? "" : Wording.Capital(elsewhere.Key.ToString()) + ":")];
        }

        if (test.Readings.IsEmpty && room is null)
        {
            yield return [Cell.Of(Nothing, columns.Count)];
        }
    }

    /// <summary>Where a sheet has room to write for a test; null on a report, and where its readings were all taken elsewhere.</summary>
    private TestScope? RoomFor(TestOnPaper test) =>
        _room?[test] is { } scope && (test.Readings.IsEmpty || test.Readings.Any(r => InScope(r.At, scope))) ? scope : null;

    private static bool InScope(Place at, TestScope scope) => scope switch
    {
        TestScope.Cylinder => at.Kind is PlaceKind.Cylinder,
        TestScope.Bank => at.Kind is PlaceKind.Bank,
        TestScope.Engine => at.Kind is PlaceKind.Engine,
        _ => throw new ArgumentOutOfRangeException(nameof(scope), scope, "Unknown scope of a test."),
    };

    /// <summary>Where nothing was read: a dash on a report, room to write on a sheet.</summary>
    private string Nothing => _room is null ? "–" : "";

    private bool HasColumn(Place place) => place.Kind is PlaceKind.Cylinder or PlaceKind.Bank && _engine.Has(place);

    private static Cell TestCell(TestOnPaper test, bool inFull, string separator = "\n") => new(
        inFull && test.Plainly.Length > 0 ? [new Run(test.Title, Bold: true), new Run(separator + test.Plainly)] : [new Run(test.Title, Bold: true)],
        Scope: HeaderScope.Row);

    /// <summary>What was read and, on a line of its own, what it came to.</summary>
    private static Cell NarrowCell(IReadOnlyList<ReadingOnPaper> readings, string nothing) =>
        readings.Count == 0 ? Cell.Of(nothing) : ReadingCell(readings, 1, "", ends: "\n");

    /// <summary>A place, what was read there and what it came to, each reading on one line.</summary>
    private static Cell WideCell(IReadOnlyList<ReadingOnPaper> readings, int span, string lead) =>
        readings.Count == 0 ? Cell.Of("–", span) : ReadingCell(readings, span, lead, ends: ",");

    /// <summary>Readings of one place, at least one.</summary>
    private static Cell ReadingCell(IReadOnlyList<ReadingOnPaper> readings, int span, string lead, string ends)
    {
        var runs = new List<Run>();
        foreach (var reading in readings)
        {
            var separator = runs.Count == 0 ? "" : "\n";
            var end = reading.Text.Length > 0 && reading.Outcome.Length > 0 ? ends : "";
            runs.Add(new Run($"{separator}{lead} {reading.Text}{end}"));
            runs.Add(new Run(reading.Outcome, Bold: reading.Verdict is Verdict.Bad));
        }

        return new Cell(runs, span, Marked: readings.Any(r => r.Verdict is Verdict.Bad));
    }
}
