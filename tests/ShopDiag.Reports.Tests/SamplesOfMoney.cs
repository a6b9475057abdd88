using System.Collections.Immutable;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Reports.Models;

namespace ShopDiag.Reports.Tests;

/// <summary>Invented estimates, photos, bench sheets and invoices.</summary>
public static class SamplesOfMoney
{
    public static ReadOnlyMemory<byte> Picture(string name)
    {
        using var stream = typeof(SamplesOfMoney).Assembly.GetManifestResourceStream(name)!;
        var bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        return bytes;
    }

    public static ShopOnPaper ShopWithLogo { get; } = Samples.Shop with { Logo = Picture("logo.png") };

    public static TotalsOnPaper Totals { get; } = new()
    {
        Subtotal = "$221.45", Discounts = "-$5.00", Taxes = [new("A", "sales tax 7.25 %", "$128.45", "$9.31")], Total = "$225.76",
    };

    public static EstimateOnPaper Estimate { get; } = new()
    {
        NeededNow = new EstimateGroup
        {
            Lines =
            [
                new() { Text = "Replace ignition coil, cylinder 3", Quantity = "0.6 h", UnitPrice = "$155.00", Amount = "$93.00" },
                new() { Text = "Ignition coil", Quantity = "1", UnitPrice = "$98.50", TaxCode = "A", Amount = "$98.50" },
                new() { Text = "Spark plug", Quantity = "1", UnitPrice = "$14.95", Discount = "-$5.00", TaxCode = "A", Amount = "$9.95" },
                new() { Text = "Shop supplies", TaxCode = "A", Amount = "$20.00" },
            ],
            Totals = Totals,
        },
        RoundingNote = "Each line is rounded to the cent; tax is taken of the sum at each rate.",
        LegalText = "This is an estimate. We do not charge more than it says without asking you first. You may have the replaced parts back if you ask before the work begins. "
            + "Local law comes before these words.",
    };

    public static SignatureOnPaper Signature { get; } = new()
    {
        Strokes =
        [
            [.. Enumerable.Range(0, 60).Select(i => new InkPoint(0.05 + (i * 0.014), 0.5 + (0.35 * Math.Sin(i * 0.55) * (1 - (i / 90.0)))))],
            [new(0.2, 0.9), new(0.85, 0.82)],
            [new(0.93, 0.4)],
        ],
    };

    public static ApprovalOnPaper Approval { get; } = new()
    {
        What = "everything needed now, not the air filter", Amount = "$225.76", By = "Marisol Tennant", How = "in person, signed", When = "May 31, 2026, 10:42 a.m.", Reference = "1042-1", Signature = Signature,
    };

    public static ImmutableArray<PhotoOnPaper> Photos { get; } =
    [
        new()
        {
            Picture = Picture("plug.jpg"), Caption = "Spark plug of cylinder 3: a dark track where the spark went astray",
            Marks = [new PhotoCircle(new(0.47, 0.3), 0.12), new PhotoStroke([new(0.75, 0.1), new(0.7, 0.2), new(0.62, 0.28)])],
        },
        new() { Picture = Picture("borescope.jpg"), Caption = "Top of the piston" },
        new() { Picture = new byte[] { 0xFF, 0xD8, 0xFF, 0xE0, 1, 2, 3 }, Caption = "Cut off on its way" },
    ];

    /// <summary>The tests of an ordinary case, told as the shop tells them.</summary>
    public static ImmutableArray<TestOnPaper> FiveTests { get; } =
    [
        .. new (string Id, (string, string)[] Readings)[]
        {
            ("trouble-codes", []),
            ("misfire-counts", [("0", "clean"), ("2", "clean"), ("412", "misfiring"), ("1", "clean")]),
            ("power-balance", [("61 rpm", "good"), ("58 rpm", "good"), ("3 rpm", "dead"), ("63 rpm", "good")]),
            ("spark-output", [("", "strong"), ("", "strong"), ("", "none"), ("", "strong")]),
            ("coil-swap", []),
        }.Select(t => Told(t.Id, t.Readings)),
    ];

    /// <summary>A whole ordinary case: one dead cylinder, one proven cause, five tests, an estimate of four lines.</summary>
    public static CustomerReport SimpleCase { get; } = Samples.Simple with
    {
        Shop = ShopWithLogo,
        QrText = "https://shop.example/orders/1042",
        Tests = FiveTests,
        Charts = [new("Speed drop when cut out, rpm", [.. new[] { 61, 58, 3, 63 }.Select((drop, i) => new MeasureBar(Place.Cylinder(i + 1), drop, $"{drop} rpm", drop < 10 ? Verdict.Bad : Verdict.Good))])],
        Findings = [Samples.Simple.Findings[0] with { Sentence = Knowledge.Shipped.Cause("coil-failed")!.ForCustomer.Replace("{place}", "cylinder 3", StringComparison.Ordinal) }],
        IfItWaits = [Knowledge.Shipped.Cause("coil-failed")!.IfLeft],
        Estimate = Estimate,
    };

    /// <summary>The same with a choice, a held back part, photos and a signature.</summary>
    public static CustomerReport FullCase { get; } = SimpleCase with
    {
        Lamp = Lamp.Flashing,
        Photos = Photos,
        Estimate = Estimate with
        {
            Advised = new EstimateGroup
            {
                Lines =
                [
                    new() { Text = "Air filter", Note = "last replaced 2021", Quantity = "1", UnitPrice = "$22.00", TaxCode = "A", Amount = "$22.00" },
                    new() { Text = "Engine control module", Quantity = "1", UnitPrice = "$812.00", TaxCode = "A", Amount = "$812.00", HeldBack = true },
                ],
                Totals = Totals with { Subtotal = "$834.00", Discounts = "", Total = "$894.47" },
            },
            Together = new TotalsOnPaper { Total = "$1,120.23" },
            HeldBackReason = "We first prove that the module has failed; until then it is not ordered.",
        },
    };

    public static BenchSheet Blank(Engine engine, string title) => new()
    {
        Shop = Samples.Shop,
        Date = new DateOnly(2026, 5, 31),
        Culture = Samples.American,
        Vehicle = new() { EngineTitle = title, Engine = engine },
        Tests = [.. Knowledge.Shipped.Tests.Where(t => t.Fits(engine)).Select(t => new BenchSheetTest(t.Title, t.Fields.FirstOrDefault(f => f.Kind == FieldKind.Number)?.Label ?? "", t.Scope, []))],
        Cautions = ["Engine cool and ignition off before hands go in; the maker's procedure, torques and safety rules come first.", "The ignition makes more than 30,000 volts: use insulated tools and a spark tester."],
    };

    public static BenchSheet Filled(Engine engine, string title) => Blank(engine, title) with
    {
        OrderNumber = 1042,
        QrText = "RO 1042",
        Vehicle = Samples.Car(engine, title),
        Technician = "Otis Fairweather",
        Concern = Samples.Simple.Concern,
        Notes = "Coil of cylinder 3 swapped with cylinder 1, the trouble went along.",
        Tests =
        [
            new("Power balance", "drop, rpm", TestScope.Cylinder, [.. engine.Cylinders.Select(c => new ReadingOnPaper(Place.Cylinder(c), $"{40 + c} rpm", c == 3 ? "dead" : "contributing", c == 3 ? Verdict.Bad : Verdict.Good))]),
            new("Compression", "psi, throttle open", TestScope.Cylinder, [.. engine.Cylinders.Where(c => c % 2 == 1).Select(c => new ReadingOnPaper(Place.Cylinder(c), $"{130 + c} psi", "good", Verdict.Good))]),
            new("Spark output", "", TestScope.Cylinder, [new(Place.Cylinder(3), "", "none", Verdict.Bad)]),
            new("Coil swap", "", TestScope.Cylinder, [new(Place.Pair(1, 3), "", "moved", Verdict.Bad)]),
            new("Fuel trims", "%", TestScope.Bank, [new(Place.Bank(1), "+1.5 %", "normal", Verdict.Good)]),
            new("Trouble codes", "", TestScope.Engine, [new(Place.Engine, "P0303", "names cylinder 3", Verdict.Neutral)]),
            new("System voltage", "V", TestScope.Engine, []),
        ],
    };

    public static Invoice Invoice { get; } = new()
    {
        Shop = ShopWithLogo,
        InvoiceNumber = "2026-0311",
        OrderNumber = 1042,
        QrText = "RO 1042",
        Date = new DateOnly(2026, 6, 2),
        Culture = Samples.American,
        CustomerName = "Marisol Tennant",
        CustomerAddress = "7 Ferry Street\nMillbrook, OH 45000",
        Vehicle = Samples.Simple.Vehicle,
        Plate = "QRX 4471",
        Odometer = "98,412 mi",
        Concern = "Shakes at idle, engine lamp on.",
        Cause = "Ignition coil of cylinder 3 makes no spark; the misfire moved with the coil to cylinder 1.",
        Correction = "Replaced ignition coil and spark plug of cylinder 3. Cleared codes, checked the repair on the road.",
        Lines = [.. Estimate.NeededNow.Lines.Select((line, i) => i == 1 ? line with { Note = "Fitted: cylinder 3, no. 33-1042" } : line)],
        Cores = [new("Ignition coil", "core returned June 2", "$15.00", "-$15.00"), new("Alternator", "core kept by the customer", "$40.00", "")],
        Totals = Totals,
        Payments = [new("card, June 2", "$200.00")],
        Due = "$25.76",
        RoundingNote = Estimate.RoundingNote,
        Approvals = [Approval, new() { What = "the spark plug", By = "Marisol Tennant", How = "by phone, 555-0119", When = "June 1, 2026, 3:05 p.m." }],
        RepairCheck = new()
        {
            Verdict = "The repair held.", Passed = true, By = "Otis Fairweather, June 2, 2026.",
            Notes = ["Codes cleared after the repair.", "Monitors after the road check: all have run."],
            Lines =
            [
                new("Power balance", "Cylinder 3", "3 rpm", "60 rpm", "good", Verdict.Good), new("Misfire counts", "Cylinder 3", "412", "0", "clean", Verdict.Good),
                new("Compression", "Cylinder 3", "131 psi", "", "not taken again", Verdict.Neutral), new("Road check", "Whole engine", "misfires", "misfires once", "look again", Verdict.Bad),
            ],
        },
        WarrantyText = "Parts and work: 12 months or 12,000 miles, whichever comes first. Bring this paper.",
        ReturnedPartsNote = "The old spark plug was given back to the customer; the old coil went back to the vendor as a core.",
    };

    public static PartsList PartsWithVendors { get; } = Samples.SimpleParts with
    {
        QrText = "RO 1042",
        Lines =
        [
            new(Samples.Coil(4)) { Number = "33-1042", Vendor = "Millbrook Parts", WantedBy = "June 1, noon", State = "ordered May 31" },
            new(Samples.Plug(4)) { Vendor = "Millbrook Parts", FittedWith = "line 1", State = "received" },
            new(new("Intake manifold gasket", 1, Place.Bank(2), "Maker's part for this engine", true)),
        ],
    };

    public static FigureReport Comebacks { get; } = new()
    {
        Shop = Samples.Shop,
        Title = "Comebacks, January to May 2026",
        Date = new DateOnly(2026, 5, 31),
        Culture = Samples.American,
        Introduction = "Repairs that came back for the same trouble.",
        Sections =
        [
            new("By diagnosis", "Small numbers say little.",
            [
                new([new("Diagnosis"), new("Repairs", true), new("Came back", true), new("Rate", true)], [new(["Ignition coil failed", "41", "2", "5 %"]), new(["Intake leak at a runner", "8", "3", "38 %"], Verdict.Bad)])
                {
                    Title = "Rates", Note = "Rate with its 95 % interval where there are 10 repairs or more.",
                },
                new([new("Technician")], []) { WhenEmpty = "Nobody has comebacks." },
            ]),
        ],
    };

    private static TestOnPaper Told(string id, (string Text, string Outcome)[] readings)
    {
        var test = Knowledge.Shipped.Test(id)!;
        return new TestOnPaper(test.Title, test.Plainly, id switch
        {
            "trouble-codes" => [new(Place.Engine, "P0303", "names cylinder 3", Verdict.Neutral)],
            "coil-swap" => [new(Place.Cylinder(3), "swapped with cylinder 1", "trouble follows the coil", Verdict.Bad)],
            _ => [.. readings.Select((r, i) => new ReadingOnPaper(Place.Cylinder(i + 1), r.Text, r.Outcome, r.Outcome is "misfiring" or "dead" or "none" ? Verdict.Bad : Verdict.Good))],
        });
    }
}
