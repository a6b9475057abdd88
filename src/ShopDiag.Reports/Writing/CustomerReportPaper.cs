using System.Globalization;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Reports.Drawing;
using ShopDiag.Reports.Layout;
using ShopDiag.Reports.Models;

namespace ShopDiag.Reports.Writing;

/// <summary>Writes the customer report: what a simple case says goes home on one sheet.</summary>
internal static class CustomerReportPaper
{
    private const int MostBars = 24;

    /// <summary>The file's bytes.</summary>
    public static byte[] Write(CustomerReport model, PaperSize size)
    {
        var title = string.Create(CultureInfo.InvariantCulture, $"Customer report, repair order {model.OrderNumber}");
        var identity = new PaperIdentity(title, "Report on your vehicle", model.Shop, model.Date, model.Culture, model.QrText);
        return PaperFile.Write(identity, PageGeometry.Of(size), paper => Fill(paper, model));
    }

    private static void Fill(PaperBuilder paper, CustomerReport model)
    {
        AddOrder(paper, model);
        paper.SideBySide(before: 8, (0.44, left => AddConcern(left, model)), (0.56, right => AddTestsHead(right, model)));
        ReadingTables.Add(paper, model.Tests, model.Vehicle.Engine);
        if (model.Charts is [{ Bars.Length: <= MostBars }])
        {
            paper.SideBySide(before: 8, (0.4, left => AddCharts(left, model)), (0.6, right => AddFindings(right, model)));
        }
        else
        {
            AddCharts(paper, model);
            AddFindings(paper, model);
        }

        PhotoBlocks.Add(paper, model.Photos);
        AddProposal(paper, model);
        paper.SideBySide(before: 8, (0.6, left => AddWaiting(left, model)), (0.4, right => AddNotes(right, model)));
        AddSignature(paper, model.Estimate);
    }

    private static void AddOrder(PaperBuilder paper, CustomerReport model) => paper.KeyValues(
    [
        ("Customer", model.CustomerName),
        ("Repair order", model.OrderNumber.ToString(CultureInfo.InvariantCulture)),
        ("Vehicle", Wording.Vehicle(model.Vehicle)),
        ("Date", Wording.Date(model.Date, model.Culture)),
        ("Engine", model.Vehicle.EngineTitle),
        ("Licence plate", model.Plate),
        ("VIN", model.Vehicle.Vin),
        ("Odometer", model.Odometer),
    ]);

    private static void AddConcern(PaperBuilder paper, CustomerReport model)
    {
        paper.Section("What you told us");
        paper.Paragraph(string.IsNullOrWhiteSpace(model.Concern) ? CustomerWording.NoConcern : model.Concern);
        if (LampWords(model.Lamp) is { Length: > 0 } lamp)
        {
            paper.Paragraph("Engine warning lamp:", lamp);
        }
    }

    private static string LampWords(Lamp lamp) => lamp switch
    {
        Lamp.Unknown => "",
        Lamp.Off => "off.",
        Lamp.Steady => "on, not flashing.",
        Lamp.Flashing => "flashing.",
        _ => throw new ArgumentOutOfRangeException(nameof(lamp), lamp, "Unknown state of the lamp."),
    };

    private static void AddTestsHead(PaperBuilder paper, CustomerReport model)
    {
        paper.Section("What we tested");
        if (model.Tests.IsEmpty)
        {
            paper.Paragraph(CustomerWording.NoTest);
        }

        if (model.Vehicle.Engine is { } engine)
        {
            var marks = model.Cylinders.GroupBy(c => c.Cylinder)
                .ToDictionary(c => c.Key, c => new PlanMark(FillPatterns.Of(c.Last().State), c.Last().Word));
            EngineBlocks.AddPlan(paper, engine, marks, new PlanMark(FillPattern.Blank, "not tested"));
        }
    }

    private static void AddCharts(PaperBuilder paper, CustomerReport model)
    {
        foreach (var chart in model.Charts)
        {
            foreach (var part in chart.Bars.Chunk(MostBars))
            {
                paper.Add(new Paragraph([new Run(chart.Title, Bold: true)], paper.Set, paper.Width, paper.Set.Look.Table) { KeepWithNext = true, Before = 8 });
                paper.Add(new BarChartFigure(chart with { Bars = [.. part] }, paper.Set) { Before = 2 });
            }
        }
    }

    private static void AddFindings(PaperBuilder paper, CustomerReport model)
    {
        paper.Section("What we found");
        if (model.Findings.IsEmpty)
        {
            paper.Paragraph(CustomerWording.NoCause, bold: true);
            paper.Paragraph(model.StillOpen);
        }

        foreach (var finding in model.Findings)
        {
            AddFinding(paper, finding);
        }
    }

    private static void AddFinding(PaperBuilder paper, FindingOnPaper finding)
    {
        paper.Add(new Paragraph([new Run($"{finding.Cause}, {finding.Place}.", Bold: true), new Run(finding.Sentence)], paper.Set, paper.Width) { KeepWithNext = true });
        if (finding.UnprovenReason is { } reason)
        {
            paper.Paragraph("Not proven:", $"{CustomerWording.BestJudgement} {reason}", bar: true);
        }

        var hasProof = !finding.Proof.IsEmpty;
        Run[] sure = Sureness(finding) is { Length: > 0 } sureness ? [new Run("How sure we are:", Bold: true), new Run(sureness)] : [];
        Run[] know = hasProof ? [new Run("How we know:", Bold: true)] : [];
        if (sure.Length + know.Length > 0)
        {
            paper.Add(new Paragraph([.. sure, .. know], paper.Set, paper.Width) { KeepWithNext = hasProof });
        }

        paper.Bullets(finding.Proof);
    }

    private static string Sureness(FindingOnPaper finding) => (finding.Sureness.Length, finding.Probability) switch
    {
        (0, null) => "",
        (0, { } probability) => Wording.Percent(probability) + ".",
        (_, null) => finding.Sureness + ".",
        (_, { } probability) => $"{finding.Sureness} ({Wording.Percent(probability)}).",
    };

    private static void AddProposal(PaperBuilder paper, CustomerReport model)
    {
        paper.Section("What we propose");
        if (model.Proposal is { } proposal)
        {
            paper.Paragraph(proposal.Summary);
            if (model.Estimate is null)
            {
                AddPartsAndPrice(paper, proposal);
            }
        }

        if (model.Estimate is { } estimate)
        {
            EstimateBlocks.Add(paper, estimate);
        }
        else if (model.Proposal is null)
        {
            paper.Paragraph(CustomerWording.NoProposal);
        }
    }

    private static void AddPartsAndPrice(PaperBuilder paper, ProposalOnPaper proposal)
    {
        paper.Bullets(proposal.Parts.Select(Wording.Part));
        Run[] labour = proposal.LabourMinutes > 0 ? [new Run("Labour:", Bold: true), new Run(Wording.Labour(proposal.LabourMinutes) + ".")] : [];
        paper.Add(new Paragraph([.. labour, new Run("Price:", Bold: true), new Run(proposal.Price ?? CustomerWording.AskAtCounter)], paper.Set, paper.Width));
    }

    private static void AddWaiting(PaperBuilder paper, CustomerReport model)
    {
        if (model.IfItWaits.All(string.IsNullOrWhiteSpace) && model.Lamp is not Lamp.Flashing)
        {
            return;
        }

        paper.Section("If it waits");
        foreach (var sentence in model.IfItWaits)
        {
            paper.Paragraph(sentence);
        }

        if (model.Lamp is Lamp.Flashing)
        {
            paper.Paragraph(CustomerWording.FlashingLead, CustomerWording.FlashingAdvice, bar: true);
        }
    }

    private static void AddNotes(PaperBuilder paper, CustomerReport model)
    {
        string[] notes = [.. model.Cautions.Where(c => !string.IsNullOrWhiteSpace(c)), .. model.DefaultLimitUsed ? [CustomerWording.DefaultLimit] : Array.Empty<string>()];
        if (notes.Length > 0)
        {
            paper.Section("Please note");
            paper.Bullets(notes);
        }
    }

    private static void AddSignature(PaperBuilder paper, EstimateOnPaper? estimate)
    {
        if (estimate is { Approvals.IsEmpty: false })
        {
            paper.Section("What you approved");
            ApprovalBlocks.Add(paper, estimate.Approvals);
        }
        else
        {
            ApprovalBlocks.AddRoomToSign(paper, estimate);
        }
    }
}
