using System.Globalization;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Reports.Drawing;
using ShopDiag.Reports.Layout;
using ShopDiag.Reports.Models;

namespace ShopDiag.Reports.Writing;

/// <summary>Writes the parts list.</summary>
internal static class PartsListPaper
{
    private static readonly string[] Heads = ["Line", "Quantity", "Part", "Position", "Must match"];
    private static readonly string[] BoughtHeads = ["Vendor", "State"];

    /// <summary>The file's bytes.</summary>
    public static byte[] Write(PartsList model, PaperSize size)
    {
        var title = string.Create(CultureInfo.InvariantCulture, $"Parts list, repair order {model.OrderNumber}");
        var identity = new PaperIdentity(title, "Parts list", model.Shop, model.Date, model.Culture, model.QrText);
        return PaperFile.Write(identity, PageGeometry.Of(size), paper => Fill(paper, model));
    }

    private static void Fill(PaperBuilder paper, PartsList model)
    {
        IReadOnlyList<PartOnPaper> lines = model.Lines.IsEmpty ? [.. model.Parts.Select(part => new PartOnPaper(part))] : model.Lines;
        if (model.UnprovenReason is { } reason)
        {
            paper.Add(new Paragraph(
                [new Run($"Cause not proven: {(string.IsNullOrWhiteSpace(reason) ? "no reason was given." : reason)}", Bold: true)], paper.Set, paper.Width, bar: true));
        }

        AddOrder(paper, model);
        AddEngine(paper, lines, model.Vehicle.Engine);
        AddParts(paper, lines, model.Vehicle.Engine);
    }

    private static void AddOrder(PaperBuilder paper, PartsList model) => paper.KeyValues(
    [
        ("Vehicle", Wording.Vehicle(model.Vehicle)),
        ("Repair order", model.OrderNumber.ToString(CultureInfo.InvariantCulture)),
        ("VIN", string.IsNullOrWhiteSpace(model.Vehicle.Vin) ? "not known" : model.Vehicle.Vin),
        ("Date", Wording.Date(model.Date, model.Culture)),
        ("Engine", model.Vehicle.EngineTitle.Length == 0 ? "not known" : model.Vehicle.EngineTitle),
        ("Wanted by", string.IsNullOrWhiteSpace(model.WantedBy) ? "__________________" : model.WantedBy),
        ("Firing order", model.Vehicle.Engine is { } engine ? string.Join("-", engine.FiringOrder) : ""),
    ]);

    private static void AddEngine(PaperBuilder paper, IReadOnlyList<PartOnPaper> lines, Engine? known)
    {
        if (known is { } engine)
        {
            paper.Section("Where they go");
            EngineBlocks.AddPlan(paper, engine, Marks(lines, engine), new PlanMark(FillPattern.Blank, "no part"));
        }
    }

    /// <summary>
    /// Each cylinder with the numbers of the lines that go there. A set with one piece a cylinder goes to all of them; other parts for the
    /// whole engine say nothing of a single cylinder and are left out.
    /// </summary>
    private static Dictionary<int, PlanMark> Marks(IReadOnlyList<PartOnPaper> lines, Engine engine) => lines
        .Select((line, i) => (line.Part.At, line.Part.Quantity, Number: i + 1))
        .Where(line => (line.At.Kind is not PlaceKind.Engine || line.Quantity == engine.CylinderCount) && engine.Has(line.At))
        .SelectMany(line => engine.CylindersAt(line.At).Select(cylinder => (cylinder, line.Number)))
        .GroupBy(line => line.cylinder, line => line.Number)
        .ToDictionary(lines => lines.Key, lines => new PlanMark(
            FillPattern.Slanting, (lines.Count() == 1 ? "line " : "lines ") + string.Join(", ", lines)));

    private static void AddParts(PaperBuilder paper, IReadOnlyList<PartOnPaper> lines, Engine? engine)
    {
        paper.Section("Parts");
        if (lines.Count == 0)
        {
            paper.Paragraph("No parts are needed.");
            return;
        }

        var bought = lines.Any(line => Said(line.Vendor, line.WantedBy, line.State).Any());
        var header = Heads.Concat(bought ? BoughtHeads : [])
            .Select(head => Cell.Head(head, HeaderScope.Column)).ToList();
        var rows = lines.Select((line, i) => Row(line, i + 1, engine, bought)).ToList();
        double[] widths = bought ? [32, 50, 112, 84, 0, 78, 66] : [34, 52, 136, 130, 0];
        widths[4] = paper.Width - widths.Sum();
        paper.Add(new Table(widths, header, rows, TableLook.Ruled(paper.Set.Look), paper.Set) { Before = 6 });
        if (lines.Any(line => line.Part.Together))
        {
            paper.Paragraph("Replace together:", "the part has not failed itself; it is renewed in the same job.");
        }
    }

    private static List<Cell> Row(PartOnPaper line, int number, Engine? engine, bool bought)
    {
        string[] below = [.. Said(
            line.Number.Length > 0 ? $"no. {line.Number}" : "",
            line.Part.Together ? "replace together" : "",
            line.FittedWith.Length > 0 ? $"fit together with {line.FittedWith}" : "")];
        List<Cell> cells =
        [
            Cell.Head(number.ToString(CultureInfo.InvariantCulture), HeaderScope.Row),
            Cell.Of(line.Part.Quantity.ToString(CultureInfo.InvariantCulture)),
            new Cell([new Run(line.Part.Part, Bold: true), .. below.Select(words => new Run("\n" + words))]),
            Cell.Of(Wording.Position(line.Part.At, engine)),
            Cell.Of(line.Part.MustMatch.Length == 0 ? "–" : line.Part.MustMatch),
        ];
        if (bought)
        {
            cells.Add(Cell.Of(OrDash([.. Said(line.Vendor, line.WantedBy.Length > 0 ? $"wanted by {line.WantedBy}" : "")])));
            cells.Add(Cell.Of(OrDash([.. Said(line.State)])));
        }

        return cells;
    }

    private static string OrDash(string[] texts) => texts.Length == 0 ? "–" : string.Join('\n', texts);

    private static IEnumerable<string> Said(params string[] texts) => texts.Where(text => !string.IsNullOrWhiteSpace(text));
}
