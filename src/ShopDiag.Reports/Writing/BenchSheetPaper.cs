using System.Globalization;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Reports.Drawing;
using ShopDiag.Reports.Layout;
using ShopDiag.Reports.Models;

namespace ShopDiag.Reports.Writing;

/// <summary>Writes the cylinder sheet for the bench.</summary>
internal static class BenchSheetPaper
{
    /// <summary>More cylinders than this want the long side of the paper.</summary>
    private const int MostUpright = 6;

    private const double RowToWriteIn = 16;
    private const string ToWrite = "__________________________";

    /// <summary>The file's bytes.</summary>
    public static byte[] Write(BenchSheet model, PaperSize size)
    {
        var engine = model.Vehicle.Engine!;
        var title = model.OrderNumber is { } number
            ? string.Create(CultureInfo.InvariantCulture, $"Cylinder sheet, repair order {number}")
            : $"Cylinder sheet, {model.Vehicle.EngineTitle}".TrimEnd(',', ' ');
        var identity = new PaperIdentity(title, "Cylinder sheet", model.Shop, model.Date, model.Culture, model.QrText);
        return PaperFile.Write(identity, PageGeometry.Of(size, landscape: engine.CylinderCount > MostUpright), paper => Fill(paper, model, engine));
    }

    private static void Fill(PaperBuilder paper, BenchSheet model, Engine engine)
    {
        paper.SideBySide(before: 6, (0.5, left => AddOrder(left, model, engine)), (0.5, right => AddPlan(right, engine)));
        AddCautions(paper, model);
        AddTests(paper, model, engine);
        AddNotPossible(paper, model);
        paper.Section("Notes");
        paper.Paragraph(model.Notes);
        paper.Add(new WritingLines(least: 2, most: 12));
    }

    private static void AddOrder(PaperBuilder paper, BenchSheet model, Engine engine) => paper.KeyValues(
    [
        ("Repair order", model.OrderNumber?.ToString(CultureInfo.InvariantCulture) ?? ToWrite),
        ("Date", model.OrderNumber is null ? ToWrite : Wording.Date(model.Date, model.Culture)),
        ("Technician", OrLine(model.Technician)),
        ("Vehicle", OrLine(Wording.Vehicle(model.Vehicle))),
        ("VIN", OrLine(model.Vehicle.Vin)),
        ("Concern", OrLine(model.Concern)),
        ("Engine", model.Vehicle.EngineTitle),
        ("Firing order", string.Join("-", engine.FiringOrder)),
        ("Companions", Companions(engine)),
    ], single: true, leastRow: RowToWriteIn);

    private static void AddPlan(PaperBuilder paper, Engine engine) => EngineBlocks.AddPlan(
        paper, engine, new Dictionary<int, PlanMark>(), rest: null);

    private static void AddCautions(PaperBuilder paper, BenchSheet model)
    {
        if (model.Cautions.Any(c => !string.IsNullOrWhiteSpace(c)))
        {
            paper.Section("Before you begin");
            paper.Bullets(model.Cautions);
        }
    }

    private static void AddTests(PaperBuilder paper, BenchSheet model, Engine engine)
    {
        paper.Section("Readings");
        if (model.Tests.IsEmpty)
        {
            paper.Paragraph("No tests were chosen.");
        }

        ReadingTables.AddSheet(paper, [.. model.Tests.Select(t => (new TestOnPaper(t.Title, t.Hint, t.Readings), t.Scope))], engine);
    }

    private static void AddNotPossible(PaperBuilder paper, BenchSheet model)
    {
        if (!model.NotPossible.IsEmpty)
        {
            paper.Section("Not possible on this car");
            paper.Bullets(model.NotPossible);
        }
    }

    private static string OrLine(string text) => string.IsNullOrWhiteSpace(text) ? ToWrite : text;

    private static string Companions(Engine engine) => engine.CompanionPairs.IsEmpty
        ? "none: no two cylinders fire one turn apart"
        : string.Join(", ", engine.CompanionPairs.Select(pair => $"{pair.First} and {pair.Second}"));
}
