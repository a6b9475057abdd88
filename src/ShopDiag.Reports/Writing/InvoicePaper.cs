using System.Globalization;
using ShopDiag.Reports.Layout;
using ShopDiag.Reports.Models;

namespace ShopDiag.Reports.Writing;

/// <summary>Writes the invoice.</summary>
internal static class InvoicePaper
{
    /// <summary>The file's bytes.</summary>
    public static byte[] Write(Invoice model, PaperSize size)
    {
        var title = string.Create(CultureInfo.InvariantCulture, $"Invoice, repair order {model.OrderNumber}");
        var identity = new PaperIdentity(title, "Invoice", model.Shop, model.Date, model.Culture, model.QrText);
        return PaperFile.Write(identity, PageGeometry.Of(size), paper => Fill(paper, model));
    }

    private static void Fill(PaperBuilder paper, Invoice model)
    {
        AddOrder(paper, model);
        AddWriteUp(paper, model);
        AddMoney(paper, model);
        if (!model.Approvals.IsEmpty)
        {
            paper.Section("What you approved");
            ApprovalBlocks.Add(paper, model.Approvals);
        }

        AddRepairCheck(paper, model.RepairCheck);
        AddText(paper, "Replaced parts", model.ReturnedPartsNote);
        AddText(paper, "Warranty", model.WarrantyText);
    }

    private static void AddOrder(PaperBuilder paper, Invoice model) => paper.KeyValues(
    [
        ("Customer", model.CustomerName),
        ("Invoice", model.InvoiceNumber),
        ("Address", string.Join(", ", model.CustomerAddress.Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries))),
        ("Repair order", model.OrderNumber.ToString(CultureInfo.InvariantCulture)),
        ("Vehicle", Wording.Vehicle(model.Vehicle)),
        ("Date", Wording.Date(model.Date, model.Culture)),
        ("Engine", model.Vehicle.EngineTitle),
        ("Licence plate", model.Plate),
        ("VIN", model.Vehicle.Vin),
        ("Odometer", model.Odometer),
    ]);

    private static void AddWriteUp(PaperBuilder paper, Invoice model)
    {
        (string Lead, string Text)[] said =
            [.. new[] { ("Concern:", model.Concern), ("Cause:", model.Cause), ("Correction:", model.Correction) }.Where(part => !string.IsNullOrWhiteSpace(part.Item2))];
        if (said.Length == 0)
        {
            return;
        }

        paper.Section("Concern, cause and correction");
        foreach (var (lead, text) in said)
        {
            paper.Paragraph(lead, text);
        }
    }

    private static void AddMoney(PaperBuilder paper, Invoice model)
    {
        paper.Section("Work and parts");
        if (model.Lines.IsEmpty)
        {
            paper.Paragraph("No work and no parts are charged.");
        }
        else
        {
            MoneyTables.AddLines(paper, "What was done", model.Lines);
        }

        if (!model.Cores.IsEmpty)
        {
            FigureTables.Add(paper, Cores(model));
        }

        MoneyTables.AddSums(paper, Sums(model), left => left.SmallPrint(model.RoundingNote));
    }

    private static FigureTable Cores(Invoice model) => new(
        [new("Core charges"), new("State"), new("Charged", IsFigures: true), new("Given back", IsFigures: true)],
        [.. model.Cores.Select(core => new FigureRow([core.Part, core.State, core.Charge, core.Credit]))]);

    private static List<(string Label, string Amount, bool Strong)> Sums(Invoice model) =>
    [
        .. MoneyTables.Sums(model.Totals),
        .. model.Payments.Select(payment => ($"Paid: {payment.How}", payment.Amount, false)),
        .. string.IsNullOrWhiteSpace(model.Due) ? [] : new[] { ("To pay", model.Due, true) },
    ];

    private static void AddRepairCheck(PaperBuilder paper, RepairCheckOnPaper? check)
    {
        if (check is null)
        {
            return;
        }

        paper.Section("Repair check");
        if (!string.IsNullOrWhiteSpace(check.Verdict))
        {
            paper.Add(new Paragraph([new Run(check.Verdict, Bold: true), new Run(check.By)], paper.Set, paper.Width, bar: !check.Passed));
        }

        foreach (var note in check.Notes)
        {
            paper.Paragraph(note);
        }

        FigureTables.Add(paper, new FigureTable(
            [new("Test"), new("Where"), new("Before"), new("After"), new("Outcome")],
            [.. check.Lines.Select(line => new FigureRow([line.Test, line.Where, OrDash(line.Before), OrDash(line.After), OrDash(line.Outcome)], line.Verdict))])
        {
            WhenEmpty = "No test was taken again.",
        });
    }

    private static string OrDash(string text) => string.IsNullOrWhiteSpace(text) ? "–" : text;

    private static void AddText(PaperBuilder paper, string heading, string text)
    {
        if (!string.IsNullOrWhiteSpace(text))
        {
            paper.Section(heading);
            paper.Paragraph(text);
        }
    }
}
