using BenchmarkDotNet.Attributes;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Benchmarks;

/// <summary>
/// One assessment by engine: with the power balance alone, where the next step has the most to think through, and with every test entered at every
/// place, where the belief has the most to count. Cylinder 2 is dead and everything else reads good.
/// </summary>
[ShortRunJob]
public class AssessmentBenchmarks
{
    private Workup _workup = null!;

    [Params("I4", "V6", "V8", "V12")]
    public string Layout { get; set; } = "V6";

    [Params("balance", "everything")]
    public string Entered { get; set; } = "everything";

    [GlobalSetup]
    public void SetUp()
    {
        var engine = Engine.Create(Knowledge.Shipped.Profiles.First(p => p.Spec.Layout == Layout && p.Spec.Ignition == Ignition.CoilOnPlug).Spec).Value;
        _workup = new Workup
        {
            Engine = engine,
            Readings = [.. Knowledge.Shipped.Tests
                .Where(t => t.Fits(engine) && (Entered == "everything" || t.Id == "power-balance"))
                .SelectMany(t => t.PlacesOn(engine).Select(p => Good(t, p, engine)))],
        };
    }

    [Benchmark]
    public Assessment Assess() => Diagnostician.Assess(_workup, Knowledge.Shipped);

    private static Reading Good(BenchTest test, Place at, Engine engine) => new()
    {
        Test = test.Id,
        At = at,
        Value = new ReadingValue(test.Fields.Select(f => new KeyValuePair<string, FieldValue>(f.Name, Good(test, f, at, engine)))),
    };

    private static FieldValue Good(BenchTest test, TestField field, Place at, Engine engine) => (test.Id, field.Name, field.Kind) switch
    {
        ("power-balance", "baseRpm", _) => FieldValue.Of(702, 700),
        ("power-balance", "cancelledRpm", _) => at == Place.Cylinder(2) ? FieldValue.Of(700, 698) : FieldValue.Of(641, 638),
        (_, _, FieldKind.Choice or FieldKind.Choices) => FieldValue.Of(field.Choices[0].Id),
        (_, _, FieldKind.Cylinder) => FieldValue.Of(engine.Cylinders.First(c => Place.Cylinder(c) != at)),
        (_, _, FieldKind.Codes) => FieldValue.Of("P0302"),
        (_, _, FieldKind.Number) => FieldValue.Of(((field.LikelyMin ?? field.Min ?? 0) + (field.LikelyMax ?? field.Max ?? 0)) / 2),
        _ => FieldValue.Of("note"),
    };
}
