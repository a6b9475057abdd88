using System.Collections.Immutable;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Reports.Models;

namespace ShopDiag.Reports.Tests;

/// <summary>Papers with the same text in every place that takes text, and papers of many lines.</summary>
public static class Hostile
{
    public static MoneyLine Line(string text) => new() { Text = text, Note = text, Quantity = text, UnitPrice = text, Discount = text, TaxCode = text, Amount = text, HeldBack = true };

    public static TotalsOnPaper Totals(string text) => new() { Subtotal = text, Discounts = text, Taxes = [new(text, text, text, text)], Total = text };

    public static ApprovalOnPaper Approval(string text) =>
        new() { What = text, Amount = text, By = text, How = text, When = text, Reference = text, Signature = SamplesOfMoney.Signature };

    public static CustomerReport Report(string text) => Samples.Filled(text) with
    {
        QrText = text.Length > 200 ? text[..200] : text,
        Photos = [new() { Picture = SamplesOfMoney.Picture("plug.jpg"), Caption = text }, new() { Picture = default, Caption = text }],
        Estimate = new()
        {
            NeededNow = new() { Lines = [Line(text)], Totals = Totals(text) },
            Advised = new() { Lines = [Line(text)], Totals = Totals(text) },
            Together = Totals(text), HeldBackReason = text, RoundingNote = text, LegalText = text, Approvals = [Approval(text)],
        },
    };

    public static CustomerReport ReportOfLines(int lines) => SamplesOfMoney.SimpleCase with
    {
        Estimate = SamplesOfMoney.Estimate with { NeededNow = SamplesOfMoney.Estimate.NeededNow with { Lines = Many(lines) } },
    };

    public static PartsList Parts(string text) => Samples.FilledParts(text) with
    {
        Lines = [new(new(text, 1, Place.Cylinder(2), text, true)) { Number = text, Vendor = text, WantedBy = text, FittedWith = text, State = text }],
    };

    public static BenchSheet Sheet(string text) => new()
    {
        Shop = new(text, text, text),
        OrderNumber = 1042,
        Date = new DateOnly(2026, 5, 31),
        Vehicle = new() { Description = text, Vin = text, EngineTitle = text, Engine = Samples.VSix },
        Technician = text,
        Concern = text,
        Tests = [new(text, text, TestScope.Cylinder, [new(Place.Cylinder(2), text, text, Verdict.Bad), new(Place.Pair(1, 4), text, text, Verdict.Good)]), new(text, text, TestScope.Bank, [new(Place.Bank(1), text, text, Verdict.Bad)]), new(text, text, TestScope.Engine, [])],
        Cautions = [text, text],
        Notes = text,
    };

    public static Invoice Bill(string text) => new()
    {
        Shop = new(text, text, text),
        InvoiceNumber = text,
        OrderNumber = 1042,
        Date = new DateOnly(2026, 5, 31),
        CustomerName = text,
        CustomerAddress = text,
        Vehicle = new() { Description = text, Vin = text, EngineTitle = text },
        Plate = text,
        Odometer = text,
        Concern = text,
        Cause = text,
        Correction = text,
        Lines = [Line(text)],
        Cores = [new(text, text, text, text)],
        Totals = Totals(text),
        Payments = [new(text, text)],
        Due = text,
        RoundingNote = text,
        Approvals = [Approval(text)],
        RepairCheck = new() { Verdict = text, By = text, Lines = [new(text, text, text, text, text, Verdict.Bad)] },
        WarrantyText = text,
        ReturnedPartsNote = text,
    };

    public static Invoice BillOfLines(int lines) => SamplesOfMoney.Invoice with { Lines = Many(lines) };

    public static FigureReport Figures(string text) => new()
    {
        Shop = new(text, text, text),
        Title = text,
        Date = new DateOnly(2026, 5, 31),
        Introduction = text,
        Sections = [new(text, text, [new([new(text), new(text, true)], [new([text, text], Verdict.Bad)]) { Title = text, Note = text }, new([new(text)], []) { WhenEmpty = text }]) { Charts = [Chart(text)] }],
    };

    /// <summary>A chart with every filling, line and anchor.</summary>
    public static ChartOnPaper Chart(string text) => new()
    {
        Title = text,
        Description = text,
        Width = 400,
        Height = 200,
        TextSize = 9,
        Areas = [.. Enum.GetValues<ChartFill>().Select((f, i) => new ChartAreaOnPaper(f, 10 + (90 * i), 20, 80, 100)), new(ChartFill.Slanting, 0, 0, 0, 0)],
        Lines = [.. Enum.GetValues<ChartStroke>().Select((s, i) => new ChartLineOnPaper(s, i == 0 ? [2, 4] : [], [(0, 130 + (10 * i)), (400, 130 + (10 * i))]))],
        Texts = [.. Enum.GetValues<ChartAnchor>().Select((a, i) => new ChartTextOnPaper(200, 160 + (12 * i), text, a))],
    };

    private static ImmutableArray<MoneyLine> Many(int lines) =>
        [.. Enumerable.Range(1, lines).Select(i => new MoneyLine { Text = $"Line number {i}", Quantity = "1", UnitPrice = "$1.00", TaxCode = "A", Amount = $"${i}.00" })];
}
