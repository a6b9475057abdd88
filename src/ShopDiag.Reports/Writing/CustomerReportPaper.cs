using System.Globalization;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Reports.Drawing;
using ShopDiag.Reports.Layout;
using ShopDiag.Reports.Models;

namespace ShopDiag.Reports.Writing;

/// <summary>Writes the customer report.</summary>
internal static class CustomerReportPaper
{
    /// <summary>
    /// Advice on driving with a flashing lamp. Facts: GM owner's manuals (1998 Firebird, 2009 Enclave) and Dodge owner's manual
    /// (2010 Avenger), engine warning lamp; the sentences are ours.
    /// </summary>
    private const string FlashingAdvice =
        "the engine is misfiring badly enough to overheat and ruin the catalytic converter, and power may drop. Slow down; "
        + "avoid hard acceleration, steep hills and towing. If the lamp goes on flashing, stop as soon as it is safe, switch the engine "
        + "off for at least ten seconds and start it again. If it still flashes, do not drive on: call the shop. "
        + "Never park over dry grass or leaves, because an overheated converter can set them on fire.";

    private const string DefaultLimitRemark =
        "Some readings were judged by general limits of the trade, because the maker's own limit for this engine was not at hand.";

    private const int MostBars = 24;

    /// <summary>The file's bytes.</summary>
    public static byte[] Write(CustomerReport model, PaperSize size)
    {
        var title = string.Create(CultureInfo.InvariantCulture, $"Customer report, repair order {model.OrderNumber}");
        using var paper = new PaperBuilder(new PaperIdentity(title, model.Shop, model.Date, Wording.Language(model.Culture)), size);
        paper.Title("Report on your vehicle");
        AddOrder(paper, model);
        AddConcern(paper, model);
        AddTests(paper, model);
        AddFindings(paper, model);
        AddProposal(paper, model.Proposal);
        AddWaiting(paper, model);
        AddNotes(paper, model);
        AddSignature(paper);
        return paper.Write();
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
        paper.Paragraph(string.IsNullOrWhiteSpace(model.Concern) ? "Nothing was written down." : model.Concern);
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

    private static void AddTests(PaperBuilder paper, CustomerReport model)
    {
        paper.Section("What we tested");
        if (model.Tests.IsEmpty)
        {
            paper.Paragraph("Nothing has been tested yet.");
        }

        if (model.Vehicle.Engine is { } engine)
        {
            var marks = model.Cylinders.GroupBy(c => c.Cylinder)
                .ToDictionary(c => c.Key, c => new PlanMark(FillPatterns.Of(c.Last().State), c.Last().Word));
            EngineBlocks.AddPlan(paper, engine, marks, new PlanMark(FillPattern.Blank, "not tested"));
        }

        ReadingTables.Add(paper, model.Tests, model.Vehicle.Engine);
        foreach (var chart in model.Charts)
        {
            AddChart(paper, chart);
        }
    }

    private static void AddChart(PaperBuilder paper, MeasureChart chart)
    {
        foreach (var part in chart.Bars.Chunk(MostBars))
        {
            paper.Add(new Paragraph([new Run(chart.Title, Bold: true)], paper.Set, paper.Width, Style.Table) { KeepWithNext = true, Before = 6 });
            paper.Add(new BarChartFigure(chart with { Bars = [.. part] }, paper.Set) { Before = 2 });
        }
    }

    private static void AddFindings(PaperBuilder paper, CustomerReport model)
    {
        paper.Section("What we found");
        if (model.Findings.IsEmpty)
        {
            paper.Paragraph("We have not found the cause yet.", bold: true);
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
            paper.Paragraph("Not proven:", $"this is our best judgement. {reason}", bar: true);
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

    private static void AddProposal(PaperBuilder paper, ProposalOnPaper? proposal)
    {
        paper.Section("What we propose");
        if (proposal is null)
        {
            paper.Paragraph("No repair is proposed yet.");
            return;
        }

        paper.Paragraph(proposal.Summary);
        paper.Bullets(proposal.Parts.Select(Wording.Part));
        Run[] labour = proposal.LabourMinutes > 0 ? [new Run("Labour:", Bold: true), new Run(Wording.Labour(proposal.LabourMinutes) + ".")] : [];
        paper.Add(new Paragraph([.. labour, new Run("Price:", Bold: true), new Run(proposal.Price ?? "ask at the counter.")], paper.Set, paper.Width));
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
            paper.Paragraph("While the warning lamp flashes,", FlashingAdvice, bar: true);
        }
    }

    private static void AddNotes(PaperBuilder paper, CustomerReport model)
    {
        string[] notes = [.. model.Cautions.Where(c => !string.IsNullOrWhiteSpace(c)), .. model.DefaultLimitUsed ? [DefaultLimitRemark] : Array.Empty<string>()];
        if (notes.Length > 0)
        {
            paper.Section("Please note");
            paper.Bullets(notes);
        }
    }

    private static void AddSignature(PaperBuilder paper)
    {
        paper.Add(new Paragraph(
            [new Run("I have received this report. My signature does not order the repair.")], paper.Set, paper.Width) { Before = 9, KeepWithNext = true });
        paper.Add(new SignatureBlock(("Name", 0.38), ("Date", 0.2), ("Signature", 0.42)));
    }
}
