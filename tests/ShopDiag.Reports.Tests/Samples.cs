using System.Collections.Immutable;
using System.Globalization;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Reports.Models;

namespace ShopDiag.Reports.Tests;

/// <summary>Invented shops, cars and people.</summary>
public static class Samples
{
    public static readonly CultureInfo American = CultureInfo.GetCultureInfo("en-US");

    public static ShopOnPaper Shop { get; } = new("Larkspur Engine Works", "14 Quarry Lane\nMillbrook, OH 45000", "555-0142");

    public static Engine Engine(string layout, int[] firingOrder, params int[][] banks) => Diagnosis.Engines.Engine.Create(new EngineSpec
    {
        Layout = layout,
        FiringOrder = [.. firingOrder],
        Banks = [.. banks.Select(b => b.ToImmutableArray())],
        Ignition = Ignition.CoilOnPlug,
        Injection = Injection.Port,
    }).Value;

    public static Engine InlineFour { get; } = Engine("I4", [1, 3, 4, 2], [1, 2, 3, 4]);

    public static Engine VSix { get; } = Engine("V6", [1, 2, 3, 4, 5, 6], [1, 3, 5], [2, 4, 6]);

    public static Engine VEight { get; } = Engine("V8", [1, 8, 7, 2, 6, 5, 4, 3], [1, 3, 5, 7], [2, 4, 6, 8]);

    public static Engine WSixteen { get; } = Engine(
        "W16", [1, 14, 9, 4, 7, 12, 15, 6, 13, 8, 3, 16, 11, 2, 5, 10], [1, 2, 3, 4], [5, 6, 7, 8], [9, 10, 11, 12], [13, 14, 15, 16]);

    public static Engine LongInline { get; } = Engine("I16", [.. Enumerable.Range(1, 16)], [.. Enumerable.Range(1, 16)]);

    public static VehicleOnPaper Car(Engine? engine, string title) => new()
    {
        Description = "Halcyon Brisa 2.0", Year = 2014, Vin = "8ZZHB2C03EK001042", EngineTitle = title, Engine = engine,
    };

    public static RepairPart Coil(int cylinder) =>
        new("Ignition coil", 1, Place.Cylinder(cylinder), "Maker and connector as the others on the engine", Together: false);

    public static RepairPart Plug(int cylinder) => new("Spark plug", 1, Place.Cylinder(cylinder), "Heat range and gap by the maker", Together: true);

    /// <summary>An ordinary case: a four with one dead cylinder, its coil proven bad.</summary>
    public static CustomerReport Simple { get; } = new()
    {
        Shop = Shop,
        OrderNumber = 1042,
        Date = new DateOnly(2026, 5, 31),
        Culture = American,
        CustomerName = "Marisol Tennant",
        Vehicle = Car(InlineFour, "Inline four, coil on plug, port injection"),
        Plate = "QRX 4471",
        Odometer = "98,400 mi",
        Concern = "Shakes at idle since Monday and the engine lamp is on. Worse on hills.",
        Lamp = Lamp.Steady,
        Tests =
        [
            new("Misfire counts", "We read how often each cylinder failed to fire.", PerCylinder(("0", "clean"), ("2", "clean"), ("412", "misfiring"), ("1", "clean"))),
            new("Spark output", "We checked whether each cylinder gets a strong spark.", PerCylinder(("", "strong"), ("", "strong"), ("", "none"), ("", "strong"))),
            new("Coil swap", "We put the coil of the weak cylinder on another one.", [new(Place.Cylinder(3), "swapped with cylinder 1", "trouble follows the coil", Verdict.Bad)]),
        ],
        Cylinders =
        [
            new(1, CylinderCondition.Contributing, "pulls"), new(2, CylinderCondition.Contributing, "pulls"),
            new(3, CylinderCondition.Dead, "dead"), new(4, CylinderCondition.Contributing, "pulls"),
        ],
        Findings =
        [
            new()
            {
                Cause = "Ignition coil failed",
                Place = "cylinder 3",
                Sentence = "The ignition coil of cylinder 3 no longer makes a spark, so that cylinder does not burn its fuel.",
                Sureness = "Very likely",
                Probability = 0.967,
                Proof = ["The misfire moved with the coil to the other cylinder.", "No spark although the coil has feed and control."],
            },
        ],
        Proposal = new() { Summary = "Replace the ignition coil of cylinder 3.", Parts = [Coil(3), Plug(3)], LabourMinutes = 35 },
        IfItWaits = ["Unburnt fuel overheats the catalytic converter and can ruin it."],
        Cautions = ["Drive gently until it is repaired."],
    };

    public static PartsList SimpleParts { get; } = new()
    {
        Shop = Shop,
        OrderNumber = 1042,
        Date = new DateOnly(2026, 5, 31),
        Culture = American,
        Vehicle = Car(VSix, "V6, coil on plug, port injection"),
        Parts = [Coil(4), Plug(4), new("Intake manifold gasket", 1, Place.Bank(2), "Maker's part for this engine", true), new("Spark plug set", 6, Place.Engine, "", true), new("Head gasket", 1, Place.Pair(3, 5), "Thickness", false)],
        WantedBy = "June 2, 10 a.m.",
    };

    public static ImmutableArray<ReadingOnPaper> PerCylinder(params (string Text, string Outcome)[] readings) =>
        [.. readings.Select((r, i) => new ReadingOnPaper(Place.Cylinder(i + 1), r.Text, r.Outcome, VerdictOf(r.Outcome)))];

    /// <summary>Every kind of reading on a larger engine, with a flashing lamp, a chart and all remarks.</summary>
    public static CustomerReport Large(Engine engine, string title) => Simple with
    {
        Vehicle = Car(engine, title),
        Lamp = Lamp.Flashing,
        DefaultLimitUsed = true,
        Tests =
        [
            new("Power balance", "We cut out one cylinder at a time and watched how much the engine slows.", [.. engine.Cylinders.Select(c => new ReadingOnPaper(Place.Cylinder(c), $"{40 + c} rpm", c == 5 ? "dead" : "contributing", c == 5 ? Verdict.Bad : Verdict.Good))]),
            new("Compression", "We measured how tightly each cylinder seals.", [.. engine.Cylinders.Select(c => new ReadingOnPaper(Place.Cylinder(c), $"{130 + c} psi", c == 5 ? "low" : "good", c == 5 ? Verdict.Bad : Verdict.Good))]),
            new("Fuel trims", "We read how much the engine corrects its fuel.", [.. Enumerable.Range(1, engine.Banks.Length).Select(b => new ReadingOnPaper(Place.Bank(b), $"+{b}.5 %", "normal", Verdict.Good))]),
            new("Trouble codes", "We read what the engine computer stored.", [new(Place.Engine, "P0305", "names cylinder 5", Verdict.Neutral)]),
        ],
        Cylinders = [.. engine.Cylinders.Select(c => new CylinderOnPaper(c, (CylinderCondition)(c % 6), ((CylinderCondition)(c % 6)).ToString()))],
        Charts = [new("Speed drop when cut out, rpm", [.. engine.Cylinders.Select(c => new MeasureBar(Place.Cylinder(c), c == 5 ? 4 : 40 + c, $"{(c == 5 ? 4 : 40 + c)} rpm", c == 5 ? Verdict.Bad : Verdict.Good))])],
    };

    /// <summary>A report with the same text in every place that takes text.</summary>
    public static CustomerReport Filled(string text) => Simple with
    {
        Shop = new(text, text, text),
        CustomerName = text,
        Vehicle = new() { Description = text, Year = 2014, Vin = text, EngineTitle = text, Engine = VSix },
        Plate = text,
        Odometer = text,
        Concern = text,
        Tests = [new(text, text, [new(Place.Cylinder(2), text, text, Verdict.Bad), new(Place.Cylinder(3), text, text, Verdict.Good), new(Place.Engine, text, text, Verdict.Neutral)])],
        Cylinders = [new(2, CylinderCondition.Dead, text)],
        Charts = [new(text, [new(Place.Cylinder(1), 1, text, Verdict.Good)])],
        Findings = [new() { Cause = text, Place = text, Sentence = text, Sureness = text, Probability = 1, Proof = [text, text], UnprovenReason = text }],
        Proposal = new() { Summary = text, Parts = [new(text, 1, Place.Cylinder(2), text, true)], LabourMinutes = 60, Price = text },
        IfItWaits = [text],
        Cautions = [text],
    };

    /// <summary>A parts list with the same text in every place that takes text.</summary>
    public static PartsList FilledParts(string text) => SimpleParts with
    {
        Shop = new(text, text, text),
        Vehicle = new() { Description = text, Year = 2014, Vin = text, EngineTitle = text, Engine = VSix },
        Parts = [new(text, 1, Place.Cylinder(2), text, true)],
        WantedBy = text,
        UnprovenReason = text,
    };

    private static Verdict VerdictOf(string outcome) => outcome switch
    {
        "clean" or "strong" or "good" => Verdict.Good,
        _ => Verdict.Bad,
    };
}
