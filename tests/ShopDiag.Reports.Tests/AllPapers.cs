using ShopDiag.Diagnosis.Engines;
using ShopDiag.Reports.Models;

namespace ShopDiag.Reports.Tests;

/// <summary>Every paper there is, simple, large and with hostile text, for what must hold of all of them.</summary>
public static class AllPapers
{
    public static Engine VTwelve { get; } = Samples.Engine("V12", [1, 7, 5, 11, 3, 9, 6, 12, 2, 8, 4, 10], [1, 2, 3, 4, 5, 6], [7, 8, 9, 10, 11, 12]);

    public static Engine VSixteen { get; } = Samples.Engine("V16", [.. Enumerable.Range(1, 16)], [1, 3, 5, 7, 9, 11, 13, 15], [2, 4, 6, 8, 10, 12, 14, 16]);

    private static readonly string LongWord = new('W', 2_000);
    private static readonly string ManyWords = string.Concat(Enumerable.Repeat("It shakes when cold. ", 100));

    public static Dictionary<string, Func<PaperSize, byte[]>> ByName { get; } = new(StringComparer.Ordinal)
    {
        ["report, first sample"] = size => Papers.CustomerReport(Samples.Simple, size),
        ["report, simple case"] = size => Papers.CustomerReport(SamplesOfMoney.SimpleCase, size),
        ["report, full case"] = size => Papers.CustomerReport(SamplesOfMoney.FullCase, size),
        ["report, approved"] = size => Papers.CustomerReport(Approved(SamplesOfMoney.Approval), size),
        ["report, V6"] = size => Papers.CustomerReport(Samples.Large(Samples.VSix, "V6"), size),
        ["report, V8"] = size => Papers.CustomerReport(Samples.Large(Samples.VEight, "V8"), size),
        ["report, W16"] = size => Papers.CustomerReport(Samples.Large(Samples.WSixteen, "W16"), size),
        ["report, 16 in a row"] = size => Papers.CustomerReport(Samples.Large(Samples.LongInline, "16 in a row"), size),
        ["report, 16 banks of one"] = size => Papers.CustomerReport(Samples.Large(Samples.Engine("X16", [.. Enumerable.Range(1, 16)], [.. Enumerable.Range(1, 16).Select(c => new[] { c })]), "16 banks"), size),
        ["report, long words"] = size => Papers.CustomerReport(Hostile.Report(LongWord), size),
        ["report, many words"] = size => Papers.CustomerReport(Hostile.Report(ManyWords), size),
        ["report, 300 lines"] = size => Papers.CustomerReport(Hostile.ReportOfLines(300), size),
        ["parts"] = size => Papers.PartsList(Samples.SimpleParts, size),
        ["parts with vendors"] = size => Papers.PartsList(SamplesOfMoney.PartsWithVendors, size),
        ["parts, long words"] = size => Papers.PartsList(Hostile.Parts(LongWord), size),
        ["parts, many words"] = size => Papers.PartsList(Samples.FilledParts(string.Concat(Enumerable.Repeat("Gasket ", 400))), size),
        ["bench sheet, blank four"] = size => Papers.BenchSheet(SamplesOfMoney.Blank(Samples.InlineFour, "Inline four"), size),
        ["bench sheet, filled four"] = size => Papers.BenchSheet(SamplesOfMoney.Filled(Samples.InlineFour, "Inline four"), size),
        ["bench sheet, blank V12"] = size => Papers.BenchSheet(SamplesOfMoney.Blank(VTwelve, "V12"), size),
        ["bench sheet, filled V12"] = size => Papers.BenchSheet(SamplesOfMoney.Filled(VTwelve, "V12"), size),
        ["bench sheet, blank V16"] = size => Papers.BenchSheet(SamplesOfMoney.Blank(VSixteen, "V16"), size),
        ["bench sheet, filled V16"] = size => Papers.BenchSheet(SamplesOfMoney.Filled(VSixteen, "V16"), size),
        ["bench sheet, filled 16 in a row"] = size => Papers.BenchSheet(SamplesOfMoney.Filled(Samples.LongInline, "16 in a row"), size),
        ["bench sheet, long words"] = size => Papers.BenchSheet(Hostile.Sheet(LongWord), size),
        ["bench sheet, many words"] = size => Papers.BenchSheet(Hostile.Sheet(ManyWords), size),
        ["invoice"] = size => Papers.Invoice(SamplesOfMoney.Invoice, size),
        ["invoice, long words"] = size => Papers.Invoice(Hostile.Bill(LongWord), size),
        ["invoice, many words"] = size => Papers.Invoice(Hostile.Bill(ManyWords), size),
        ["invoice, 300 lines"] = size => Papers.Invoice(Hostile.BillOfLines(300), size),
        ["figures"] = size => Papers.FigureReport(SamplesOfMoney.Comebacks, size),
        ["figures, long words"] = size => Papers.FigureReport(Hostile.Figures(LongWord), size),
        ["figures, many words"] = size => Papers.FigureReport(Hostile.Figures(ManyWords), size),
    };

    /// <summary>Each paper on both sizes.</summary>
    public static TheoryData<string, PaperSize> OnBothSizes
    {
        get
        {
            var data = new TheoryData<string, PaperSize>();
            foreach (var name in ByName.Keys)
            {
                data.Add(name, PaperSize.Letter);
                data.Add(name, PaperSize.A4);
            }

            return data;
        }
    }

    public static CustomerReport Approved(params ApprovalOnPaper[] approvals) =>
        SamplesOfMoney.SimpleCase with { Estimate = SamplesOfMoney.Estimate with { Approvals = [.. approvals] } };
}
