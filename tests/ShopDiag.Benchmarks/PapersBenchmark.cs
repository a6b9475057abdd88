using BenchmarkDotNet.Attributes;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Reports;
using ShopDiag.Reports.Models;

namespace ShopDiag.Benchmarks;

/// <summary>One paper after the first: an ordinary customer report with its estimate, and an invoice of many lines. To stay under 150 ms.</summary>
[ShortRunJob]
public class PapersBenchmark
{
    private CustomerReport _report = null!;
    private Invoice _invoice = null!;

    [Params(4, 300)]
    public int Lines { get; set; } = 4;

    [GlobalSetup]
    public void SetUp()
    {
        var engine = Engine.Create(Knowledge.Shipped.Profiles.First(p => p.Spec.Layout == "V8").Spec).Value;
        var shop = new ShopOnPaper("Larkspur Engine Works", "14 Quarry Lane", "555-0142");
        var vehicle = new VehicleOnPaper { Description = "Halcyon Brisa", EngineTitle = "V8", Engine = engine };
        MoneyLine[] lines = [.. Enumerable.Range(1, Lines).Select(i => new MoneyLine { Text = $"Line {i}", Quantity = "1", UnitPrice = "$10.00", Amount = "$10.00" })];
        var date = new DateOnly(2026, 5, 31);
        _report = new CustomerReport
        {
            Shop = shop,
            OrderNumber = 1042,
            QrText = "RO 1042",
            Date = date,
            Vehicle = vehicle,
            Concern = "Shakes at idle.",
            Tests = [.. Knowledge.Shipped.Tests.Take(5).Select(t => new TestOnPaper(t.Title, t.Plainly, [.. engine.Cylinders.Select(c => new ReadingOnPaper(Place.Cylinder(c), "61 rpm", "good", Verdict.Good))]))],
            Cylinders = [.. engine.Cylinders.Select(c => new CylinderOnPaper(c, CylinderCondition.Contributing, "works"))],
            Estimate = new EstimateOnPaper { NeededNow = new EstimateGroup { Lines = [.. lines], Totals = new TotalsOnPaper { Total = "$40.00" } } },
        };
        _invoice = new Invoice
        {
            Shop = shop, OrderNumber = 1042, QrText = "RO 1042", Date = date, Vehicle = vehicle, Lines = [.. lines], Totals = new TotalsOnPaper { Total = "$40.00" },
        };
    }

    [Benchmark]
    public byte[] CustomerReport() => Papers.CustomerReport(_report, PaperSize.Letter);

    [Benchmark]
    public byte[] Invoice() => Papers.Invoice(_invoice, PaperSize.Letter);
}
