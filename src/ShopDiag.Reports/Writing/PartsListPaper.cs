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
    /// <summary>The file's bytes.</summary>
    public static byte[] Write(PartsList model, PaperSize size)
    {
        var title = string.Create(CultureInfo.InvariantCulture, $"Parts list, repair order {model.OrderNumber}");
        using var paper = new PaperBuilder(new PaperIdentity(title, model.Shop, model.Date, Wording.Language(model.Culture)), size);
        paper.Title("Parts list");
        if (model.UnprovenReason is { } reason)
        {
            paper.Add(new Paragraph(
                [new Run($"Cause not proven: {(string.IsNullOrWhiteSpace(reason) ? "no reason was given." : reason)}", Bold: true)], paper.Set, paper.Width, bar: true));
        }

        AddOrder(paper, model);
        AddEngine(paper, model);
        AddParts(paper, model);
        return paper.Write();
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

    private static void AddEngine(PaperBuilder paper, PartsList model)
    {
        if (model.Vehicle.Engine is { } engine)
        {
            paper.Section("Where they go");
            EngineBlocks.AddPlan(paper, engine, Marks(model, engine), new PlanMark(FillPattern.Blank, "no part"));
        }
    }

    /// <summary>
    /// Each cylinder with the numbers of the lines that go there. A set with one piece a cylinder goes to all of them; other parts for the
    /// whole engine say nothing of a single cylinder and are left out.
    /// </summary>
    private static Dictionary<int, PlanMark> Marks(PartsList model, Engine engine) => model.Parts
        .Select((part, i) => (part.At, part.Quantity, Number: i + 1))
        .Where(line => (line.At.Kind is not PlaceKind.Engine || line.Quantity == engine.CylinderCount) && engine.Has(line.At))
        .SelectMany(line => engine.CylindersAt(line.At).Select(cylinder => (cylinder, line.Number)))
        .GroupBy(line => line.cylinder, line => line.Number)
        .ToDictionary(lines => lines.Key, lines => new PlanMark(
            FillPattern.Slanting, (lines.Count() == 1 ? "line " : "lines ") + string.Join(", ", lines)));

    private static void AddParts(PaperBuilder paper, PartsList model)
    {
        paper.Section("Parts");
        if (model.Parts.IsEmpty)
        {
            paper.Paragraph("No parts are needed.");
            return;
        }

        Cell[] header =
        [
            Cell.Head("Line", HeaderScope.Column), Cell.Head("Quantity", HeaderScope.Column), Cell.Head("Part", HeaderScope.Column),
            Cell.Head("Position", HeaderScope.Column), Cell.Head("Must match", HeaderScope.Column),
        ];
        var rows = model.Parts.Select((part, i) => (Cell[])
        [
            Cell.Head((i + 1).ToString(CultureInfo.InvariantCulture), HeaderScope.Row),
            Cell.Of(part.Quantity.ToString(CultureInfo.InvariantCulture)),
            new Cell([new Run(part.Part, Bold: true), new Run(part.Together ? "\nreplace together" : "")]),
            Cell.Of(Wording.Position(part.At, model.Vehicle.Engine)),
            Cell.Of(part.MustMatch.Length == 0 ? "–" : part.MustMatch),
        ]);
        double[] widths = [34, 52, 136, 130];
        paper.Add(new Table([.. widths, paper.Width - widths.Sum()], header, rows, TableLook.Ruled, paper.Set) { Before = 6 });
        if (model.Parts.Any(p => p.Together))
        {
            paper.Paragraph("Replace together:", "the part has not failed itself; it is renewed in the same job.");
        }
    }
}
