using ShopDiag.Diagnosis;
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
    private const int MostColumns = 6;
    private const double NarrowestTest = 112;
    private const double WidestTest = 246;
    private const double NarrowestColumn = 58;
    private const double WidestColumn = 84;

    private const int MostLetters = 40; // A longer word is broken in any case.

    private readonly Engine _engine;
    private readonly PaperBuilder _paper;

    private ReadingTables(Engine engine, PaperBuilder paper) => (_engine, _paper) = (engine, paper);

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
            new ReadingTables(engine, paper).AddGroups(tests);
        }
    }

    private static void AddList(PaperBuilder paper, IReadOnlyList<TestOnPaper> tests)
    {
        Cell[] header = [Cell.Head("Test", HeaderScope.Column), Cell.Head("Where", HeaderScope.Column), Cell.Head("Reading", HeaderScope.Column)];
        var rows = tests.SelectMany(test => test.Readings.IsEmpty
            ? [[TestCell(test, inFull: true), Cell.Of("–"), Cell.Of("–")]]
            : test.Readings.Select((reading, i) => (Cell[])[TestCell(test, inFull: i == 0), Cell.Of(Wording.Capital(reading.At.ToString())), WideCell([reading], 1, "")]));
        paper.Add(new Table([200, 110, paper.Width - 310], header, rows, TableLook.Ruled, paper.Set) { Before = 6 });
    }

    private void AddGroups(IReadOnlyList<TestOnPaper> tests)
    {
        var groups = Groups();
        var testWidth = Math.Clamp(_paper.Width - (groups.Max(g => g.Count) * ColumnWidth(tests)), NarrowestTest, WidestTest);
        for (var g = 0; g < groups.Count; g++)
        {
            var columns = groups[g];
            var rows = tests.SelectMany(test => Rows(test, columns, isFirst: columns == groups[0])).ToList();
            if (rows.Count > 0)
            {
                var widths = new[] { testWidth }.Concat(Enumerable.Repeat((_paper.Width - testWidth) / columns.Count, columns.Count));
                var header = new[] { Cell.Head("Test", HeaderScope.Column) }.Concat(columns.Select(c => Cell.Head($"Cylinder {c}", HeaderScope.Column)));
                _paper.Add(new Table([.. widths], [.. header], rows, TableLook.Ruled, _paper.Set) { Before = 6 });
            }
        }
    }

    /// <summary>As wide as the longest word of a cylinder's readings wants, within bounds: "contributing" must not be broken for want of a point.</summary>
    private double ColumnWidth(IReadOnlyList<TestOnPaper> tests)
    {
        var face = TableLook.Ruled.Face with { Bold = true };
        var words = tests.SelectMany(t => t.Readings).Where(r => r.At.Kind is PlaceKind.Cylinder)
            .SelectMany(r => _paper.Set.Printable.Of(r.Text + " " + r.Outcome).Split([' ', '\n']))
            .Where(word => word.Length < MostLetters);
        var longest = words.Select(word => _paper.Set.Width(word, face)).DefaultIfEmpty().Max();
        return Math.Clamp(longest + TableLook.Ruled.Left + TableLook.Ruled.Right + 0.5, NarrowestColumn, WidestColumn);
    }

    /// <summary>The cylinders of each table: whole banks as long as they fit, a longer bank in even parts.</summary>
    private List<List<int>> Groups()
    {
        var groups = new List<List<int>>();
        foreach (var bank in _engine.Banks)
        {
            if (groups.Count > 0 && groups[^1].Count + bank.Length <= MostColumns)
            {
                groups[^1].AddRange(bank);
                continue;
            }

            var parts = (bank.Length + MostColumns - 1) / MostColumns;
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
            yield return [TestCell(test, inFull), .. cells];
            inFull = false;
        }
    }

    private IEnumerable<IEnumerable<Cell>> ReadingRows(TestOnPaper test, List<int> columns, bool isFirst)
    {
        var byPlace = test.Readings.ToLookup(r => r.At);
        var taken = columns.Where(c => byPlace.Contains(Place.Cylinder(c))).ToList();
        if (taken is [var only] && columns.Count > 2)
        {
            yield return [WideCell([.. byPlace[Place.Cylinder(only)]], columns.Count, $"Cylinder {only}:")];
        }
        else if (taken.Count > 0)
        {
            yield return columns.Select(c => NarrowCell([.. byPlace[Place.Cylinder(c)]]));
        }

        var banks = columns.GroupBy(_engine.BankOf).ToList();
        if (banks.Any(b => byPlace.Contains(Place.Bank(b.Key))))
        {
            yield return banks.Select(b => WideCell([.. byPlace[Place.Bank(b.Key)]], b.Count(), $"Bank {b.Key}:"));
        }

        if (!isFirst)
        {
            yield break;
        }

        foreach (var elsewhere in byPlace.Where(place => !HasColumn(place.Key)))
        {
            yield return [WideCell([.. elsewhere], columns.Count, elsewhere.Key == Place.Engine ? "" : Wording.Capital(elsewhere.Key.ToString()) + ":")];
        }

        if (test.Readings.IsEmpty)
        {
            yield return [Cell.Of("–", columns.Count)];
        }
    }

    private bool HasColumn(Place place) => place.Kind is PlaceKind.Cylinder or PlaceKind.Bank && _engine.Has(place);

    private static Cell TestCell(TestOnPaper test, bool inFull) => new(
        inFull && test.Plainly.Length > 0 ? [new Run(test.Title, Bold: true), new Run("\n" + test.Plainly)] : [new Run(test.Title, Bold: true)],
        Scope: HeaderScope.Row);

    /// <summary>What was read and, on a line of its own, what it came to.</summary>
    private static Cell NarrowCell(IReadOnlyList<ReadingOnPaper> readings) => ReadingCell(readings, 1, "", ends: "\n");

    /// <summary>A place, what was read there and what it came to, each reading on one line.</summary>
    private static Cell WideCell(IReadOnlyList<ReadingOnPaper> readings, int span, string lead) => ReadingCell(readings, span, lead, ends: ",");

    /// <summary>Readings of one place; a dash where nothing was read.</summary>
    private static Cell ReadingCell(IReadOnlyList<ReadingOnPaper> readings, int span, string lead, string ends)
    {
        if (readings.Count == 0)
        {
            return Cell.Of("–", span);
        }

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
