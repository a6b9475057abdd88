using BenchmarkDotNet.Attributes;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Benchmarks;

/// <summary>One assessment with a power balance of every cylinder and a handful of readings at the dead one, by engine.</summary>
[ShortRunJob]
public class AssessmentBenchmarks
{
    private Workup _workup = null!;

    [Params("I4", "V6", "V8", "V12")]
    public string Layout { get; set; } = "V6";

    [GlobalSetup]
    public void SetUp()
    {
        var engine = Engine.Create(Knowledge.Shipped.Profiles.First(p => p.Spec.Layout == Layout && p.Spec.Ignition == Ignition.CoilOnPlug).Spec).Value;
        _workup = new Workup
        {
            Engine = engine,
            Readings =
            [
                .. engine.Cylinders.Select(c => Of("power-balance", c, ("baseRpm", FieldValue.Of(702, 700)), ("cancelledRpm", FieldValue.Of(c == 2 ? 700 : 641, c == 2 ? 698 : 638)))),
                Of("spark-output", 2, ("jumps", FieldValue.Of("steady"))),
                Of("injector-sound", 2, ("sound", FieldValue.Of("ticking"))),
                Of("intake-leak", 2, ("found", FieldValue.Of("no"))),
            ],
        };
    }

    [Benchmark]
    public Assessment Assess() => Diagnostician.Assess(_workup, Knowledge.Shipped);

    private static Reading Of(string test, int cylinder, params (string Field, FieldValue Value)[] fields) => new()
    {
        Test = test, At = Place.Cylinder(cylinder), Value = new ReadingValue(fields.Select(f => new KeyValuePair<string, FieldValue>(f.Field, f.Value))),
    };
}
