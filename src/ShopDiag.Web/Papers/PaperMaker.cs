using System.Collections.Immutable;
using System.Globalization;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Estimates;
using ShopDiag.Reports;
using ShopDiag.Reports.Models;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Shop;
using ShopDiag.Web.Components.WorkupViews;
using ShopDiag.Web.Orders;
using ShopDiag.Web.Photos;

namespace ShopDiag.Web.Papers;

/// <summary>Makes the papers of an order: puts what the shop knows into the report models and has them drawn.</summary>
public sealed class PaperMaker(Knowledge knowledge, TimeProvider time, ShopLogo logo)
{
    /// <summary>The customer report, with the photos that were chosen for it.</summary>
    public byte[] CustomerReport(RepairOrder order, ShopSettings settings, IEnumerable<PhotoForPaper> photos, PaperSize paper) =>
        Reports.Papers.CustomerReport(Customer(order, settings) with { Photos = [.. photos.Select(Photo)] }, paper);

    /// <summary>The parts list, or null while no finding has been taken over: then there is nothing to ask the counter for.</summary>
    public byte[]? PartsList(RepairOrder order, ShopSettings settings, PaperSize paper) =>
        Parts(order, settings) is { } list ? Reports.Papers.PartsList(list, paper) : null;

    /// <summary>The invoice, or null while there is nothing to bill.</summary>
    public byte[]? Invoice(RepairOrder order, ShopSettings settings, PaperSize paper) =>
        MoneyOnPapers.HasSomethingToBill(order) ? Reports.Papers.Invoice(Bill(order, settings), paper) : null;

    /// <summary>The bench sheet of an order, filled with what was read or blank; null while no engine is chosen: then there are no columns.</summary>
    public byte[]? BenchSheet(RepairOrder order, ShopSettings settings, PaperSize paper, bool blank) =>
        Bench(order, settings, blank) is { } sheet ? Reports.Papers.BenchSheet(sheet, paper) : null;

    /// <summary>What the customer report says.</summary>
    public CustomerReport Customer(RepairOrder order, ShopSettings settings)
    {
        ArgumentNullException.ThrowIfNull(order);
        ArgumentNullException.ThrowIfNull(settings);
        // The report says what was found and proposes the repair, so it tells of the readings before it; the repair check has a paper of its own.
        var workup = order.ToWorkup(settings.ToSetup()) is { } whole ? whole with { Readings = [.. whole.Readings.Where(r => r.Stage == Stage.Before)] } : null;
        var assessment = workup is null ? null : Diagnostician.Assess(workup, knowledge);
        var tested = new TestedOnPaper(knowledge, ShopUnits.Of(settings));
        var causes = order.Finding?.Conclusion.Causes ?? [];
        return new CustomerReport
        {
            Shop = Shop(settings),
            OrderNumber = order.Number,
            Date = Today(),
            CustomerName = order.Customer.Name,
            Vehicle = Vehicle(order, workup?.Engine),
            Plate = order.Vehicle.Plate,
            Odometer = Odometer(order),
            Concern = order.ConcernText,
            Lamp = order.Concern.Lamp,
            Tests = assessment is null ? [] : tested.Tests(workup!, assessment),
            Charts = assessment is null ? [] : tested.Charts(assessment),
            Cylinders = assessment is null ? [] : [.. assessment.Cylinders.Select(c => new CylinderOnPaper(c.Cylinder, c.State, CylinderWord(c.State)))],
            Findings = order.Finding is { } finding ? [.. causes.Select(c => Finding(c, finding))] : [],
            StillOpen = order.Finding is null ? StillOpen(assessment) : "",
            Proposal = order.Finding is { } found ? Proposal(found.Conclusion.Repair) : null,
            Estimate = new MoneyOnPapers(order, settings, new ShopClock(time, settings)).Estimate(),
            QrText = QrText(order),
            IfItWaits = [.. causes.Select(c => knowledge.Cause(c.Cause)?.IfLeft ?? "").Where(t => t.Length > 0).Distinct()],
            DefaultLimitUsed = assessment?.Findings.Any(f => f.ByDefaultLimit) == true,
        };
    }

    /// <summary>What the parts list says, or null while no finding has been taken over.</summary>
    public PartsList? Parts(RepairOrder order, ShopSettings settings)
    {
        ArgumentNullException.ThrowIfNull(order);
        ArgumentNullException.ThrowIfNull(settings);
        if (order.Finding is not { } finding)
        {
            return null;
        }

        return new PartsList
        {
            Shop = Shop(settings),
            OrderNumber = order.Number,
            Date = Today(),
            Vehicle = Vehicle(order, order.ToWorkup(settings.ToSetup())?.Engine),
            Parts = finding.Conclusion.Repair.Parts,
            Lines = [.. order.Parts.Where(p => p.State != PartState.Returned).Select(Part)],
            QrText = QrText(order),
            WantedBy = order.PromisedAt is { } promised ? new ShopClock(time, settings).Date(promised) : "",
            UnprovenReason = finding.UnprovenReason,
        };
    }

    /// <summary>What the invoice says.</summary>
    public Invoice Bill(RepairOrder order, ShopSettings settings)
    {
        ArgumentNullException.ThrowIfNull(order);
        ArgumentNullException.ThrowIfNull(settings);
        var workup = order.ToWorkup(settings.ToSetup());
        var assessment = workup is null ? null : Diagnostician.Assess(workup, knowledge);
        var written = WriteUp.Of(order, assessment, knowledge);
        var money = new MoneyOnPapers(order, settings, new ShopClock(time, settings));
        return new Invoice
        {
            Shop = Shop(settings),
            OrderNumber = order.Number,
            QrText = QrText(order),
            Date = Today(),
            CustomerName = order.Customer.Name,
            Vehicle = Vehicle(order, workup?.Engine),
            Plate = order.Vehicle.Plate,
            Odometer = Odometer(order),
            Concern = written.Concern,
            Cause = written.Cause,
            Correction = written.Correction,
            Lines = money.Billed(),
            Cores = money.Cores(),
            Totals = money.BilledTotals(),
            Due = money.Due(),
            RoundingNote = Rounding.InWords,
            Approvals = money.Approvals(),
            RepairCheck = workup is null ? null : new RepairCheckOnPapers(knowledge, ShopUnits.Of(settings)).Of(workup) is { } check ? check with { Notes = RepairCheckOnPapers.Notes(order) } : null,
            WarrantyText = settings.Pricing.Warranty,
            ReturnedPartsNote = order.Approvals.Any(a => a.OldPartsBack) ? "You asked for the replaced parts; they are with the car." : "",
        };
    }

    /// <summary>What the bench sheet says, or null while no engine is chosen.</summary>
    public BenchSheet? Bench(RepairOrder order, ShopSettings settings, bool blank)
    {
        ArgumentNullException.ThrowIfNull(order);
        ArgumentNullException.ThrowIfNull(settings);
        if (order.ToWorkup(settings.ToSetup()) is not { } workup)
        {
            return null;
        }

        // A blank sheet is for a work that begins: nothing that was read so far speaks on it.
        var assessment = Diagnostician.Assess(blank ? workup with { Readings = [] } : workup, knowledge);
        return new BenchSheet
        {
            Shop = Shop(settings),
            OrderNumber = order.Number,
            QrText = QrText(order),
            Date = Today(),
            Vehicle = Vehicle(order, workup.Engine),
            Technician = order.Technician,
            Concern = order.ConcernText,
            Tests = blank ? ToWriteIn(workup, ShopUnits.Of(settings)) : [.. Read(workup, assessment, settings, Stage.Before), .. Read(workup, assessment, settings, Stage.After)],
            NotPossible = ObstaclesOnPaper.Lines(order, workup, knowledge, new ShopClock(time, settings)),
            Cautions = assessment.Warnings,
        };
    }

    // A test that can be taken nowhere on the car has no row to write in.
    private ImmutableArray<BenchSheetTest> ToWriteIn(Workup workup, ShopUnits units) =>
        [.. knowledge.Tests.Where(t => t.Scope == TestScope.Cylinder && !workup.IsBarred(t, Place.Engine))
            .Select(t => new BenchSheetTest(t.Title, CellFigure.UnitOf(t, units), t.Scope, [.. ObstaclesOnPaper.Marks(workup, t, [])]))];

    // Readings after the repair have rows of their own: beside those before, nobody could tell which is which.
    private ImmutableArray<BenchSheetTest> Read(Workup workup, Assessment assessment, ShopSettings settings, Stage stage)
    {
        var units = ShopUnits.Of(settings);
        var read = new TestedOnPaper(knowledge, units)
            .Tests(workup with { Readings = [.. workup.Readings.Where(r => r.Stage == stage)] }, assessment with { Findings = [.. assessment.Findings.Where(f => f.Stage == stage)] })
            .ToDictionary(t => t.Title, t => t.Readings);
        return [.. knowledge.Tests.Select(t => (Test: t, Cells: Cells(t))).Where(t => !t.Cells.IsEmpty)
            .Select(t => new BenchSheetTest(stage == Stage.After ? $"{t.Test.Title}, after the repair" : t.Test.Title, CellFigure.UnitOf(t.Test, units), t.Test.Scope, t.Cells))];

        // What could not be taken stands once, with the readings before the repair; after it only the lines below the table tell of it.
        ImmutableArray<ReadingOnPaper> Cells(BenchTest test)
        {
            var readings = read.GetValueOrDefault(test.Title, []);
            return stage == Stage.After ? readings : [.. readings, .. ObstaclesOnPaper.Marks(workup, test, readings)];
        }
    }

    private PhotoOnPaper Photo(PhotoForPaper photo) => new()
    {
        Picture = photo.Jpeg,
        Caption = photo.Caption.Length > 0 ? photo.Caption : $"{knowledge.Test(photo.Test)?.Title ?? photo.Test}, {photo.At}",
        Marks = [.. photo.Strokes.Select(s => new Reports.Models.PhotoStroke([.. s.Points.Select(p => new InkPoint(p.X, p.Y))]))],
    };

    private static string QrText(RepairOrder order) => string.Create(CultureInfo.InvariantCulture, $"RO {order.Number}");

    private static string Odometer(RepairOrder order) => order.Odometer is { } read ? string.Create(CultureInfo.InvariantCulture, $"{read:#,0} {order.OdometerUnit}") : "";

    private static PartOnPaper Part(PartOnOrder part) => new(new RepairPart(part.Text, part.Quantity, Place.FromWords(part.Position) ?? Place.Engine, part.MustMatch, part.Together))
    {
        Number = string.Join(' ', new[] { part.Maker, part.PartNumber }.Where(t => t.Length > 0)),
        Vendor = part.Vendor,
        State = part.State.ToString().ToLowerInvariant(),
    };

    private DateOnly Today() => DateOnly.FromDateTime(time.GetLocalNow().DateTime);

    /// <summary>The shop as its papers show it.</summary>
    internal static ShopOnPaper Shop(ShopSettings settings, ReadOnlyMemory<byte> logo) => new(settings.Name, settings.Address, settings.Phone) { Logo = logo };

    private ShopOnPaper Shop(ShopSettings settings) => Shop(settings, logo.Read());

    private static VehicleOnPaper Vehicle(RepairOrder order, Engine? engine) => new()
    {
        Description = order.Vehicle.Description, Year = order.Vehicle.Year, Vin = order.Vehicle.Vin, EngineTitle = order.Vehicle.EngineTitle, Engine = engine,
    };

    private FindingOnPaper Finding(ProvenCause cause, OrderFinding finding) => new()
    {
        Cause = knowledge.Cause(cause.Cause)?.Title ?? cause.Cause,
        Place = cause.At.ToString(),
        Sentence = RepairPlan.InWords(knowledge.Cause(cause.Cause)?.ForCustomer ?? "", cause.At),
        Sureness = finding.UnprovenReason is null ? "Proven by measurement" : LikelyWords.For(finding.Probability),
        // A proof says more than a figure; without one the figure says how far the readings carry.
        Probability = finding.UnprovenReason is null ? null : finding.Probability,
        Proof = [.. finding.Conclusion.Proof.Select(p => $"{knowledge.Test(p.Test)?.Title ?? p.Test}, {p.At}: {p.Because}")],
        UnprovenReason = finding.UnprovenReason,
    };

    // The price comes with the estimate; until then the paper sends the customer to the counter.
    private static ProposalOnPaper Proposal(Repair repair) => new()
    {
        Summary = repair.Summary, Parts = repair.Parts, LabourMinutes = repair.LabourMinutes,
    };

    private string StillOpen(Assessment? assessment)
    {
        if (assessment is null || assessment.Findings.IsEmpty)
        {
            return "We have not begun to measure yet.";
        }

        var weak = assessment.Cylinders.Where(c => c.State is CylinderCondition.Dead or CylinderCondition.Weak or CylinderCondition.Misfiring).Select(c => c.Cylinder).ToArray();
        var known = weak.Length switch
        {
            0 => "We do not know yet which cylinder is not working properly.",
            1 => $"Cylinder {weak[0]} is not working properly; we do not know yet why.",
            _ => $"Cylinders {string.Join(", ", weak)} are not working properly; we do not know yet why.",
        };
        return assessment.Next.FirstOrDefault()?.Test is { } next ? $"{known} Next we would test: {knowledge.Test(next)!.Title.ToLowerInvariant()}." : known;
    }

    private static string CylinderWord(CylinderCondition state) => state switch
    {
        CylinderCondition.Unknown => "not tested",
        CylinderCondition.Contributing => "works",
        CylinderCondition.Misfiring => "misfires",
        CylinderCondition.Weak => "weak",
        CylinderCondition.Dead => "dead",
        CylinderCondition.CannotTell => "unclear",
        _ => throw new InvalidOperationException($"Unknown state {state}."),
    };
}
