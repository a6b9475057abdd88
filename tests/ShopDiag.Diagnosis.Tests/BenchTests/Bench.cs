using System.Collections.Immutable;
using CsCheck;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Limits;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.Tests.Readings;

/// <summary>Engines, readings and a direct way into one evaluation, without the reasoning around it.</summary>
internal static class Bench
{
    public static Engine I4 { get; } = Make("I4", [[1, 2, 3, 4]], [1, 3, 4, 2]);

    public static Engine V6 { get; } = Make("V6", [[1, 3, 5], [2, 4, 6]], [1, 2, 3, 4, 5, 6]);

    /// <summary>Other numberings of a four: the cylinder that was 1 comes first.</summary>
    public static Gen<int[]> Numberings { get; } = Gen.Shuffle(Enumerable.Range(1, 4).ToArray());

    public static Engine Make(
        string layout, ImmutableArray<ImmutableArray<int>> banks, ImmutableArray<int> order,
        Ignition ignition = Ignition.CoilOnPlug, Injection injection = Injection.Port) =>
        Engine.Create(new EngineSpec { Layout = layout, Banks = banks, FiringOrder = order, Ignition = ignition, Injection = injection }).Value;

    public static Engine With(this Engine engine, params (string Limit, double Value)[] limits) =>
        Engine.Create(engine.Spec with { Limits = limits.ToImmutableDictionary(l => l.Limit, l => l.Value) }).Value;

    public static Reading At(Place at, params (string Field, FieldValue Value)[] fields) => new()
    {
        Test = "", At = at, Value = new ReadingValue(fields.Select(f => KeyValuePair.Create(f.Field, f.Value))),
    };

    public static Reading At(int cylinder, params (string Field, FieldValue Value)[] fields) => At(Place.Cylinder(cylinder), fields);

    public static (string Field, FieldValue Value) N(string field, params double[] numbers) => (field, FieldValue.Of(numbers));

    public static (string Field, FieldValue Value) T(string field, params string[] texts) => (field, FieldValue.Of(texts));

    public static ImmutableArray<Finding> Judge(
        Engine engine, string test, IEnumerable<Reading> readings, double altitude = 0, ImmutableArray<Finding>? earlier = null, AltitudeRule rule = AltitudeRule.PressureRatio)
    {
        var described = Knowledge.Shipped.Test(test)!;
        var input = new EvaluationInput
        {
            Test = described, Engine = engine, Limits = new LimitSet(Knowledge.Shipped.Limits, engine.Spec.Limits),
            Shop = new ShopSetup { AltitudeMetres = altitude, AltitudeRule = rule }, Stage = Stage.Before, Earlier = earlier ?? [],
            Readings = readings.GroupBy(r => r.At).ToImmutableSortedDictionary(g => g.Key, g => g.Select(r => r with { Test = test }).ToImmutableArray()),
        };
        return [.. Evaluations.All[described.Evaluation].Evaluate(input)];
    }

    public static ImmutableArray<Finding> Judge(Engine engine, string test, params Reading[] readings) => Judge(engine, test, readings.AsEnumerable());

    public static Finding JudgeOne(Engine engine, string test, params Reading[] readings) => Assert.Single(Judge(engine, test, readings));

    public static Finding On(this ImmutableArray<Finding> findings, int cylinder) => findings.Single(f => f.At == Place.Cylinder(cylinder));

    /// <summary>Outcomes in cylinder order; a dash for "cannot tell".</summary>
    public static string Outcomes(this ImmutableArray<Finding> findings) => string.Join(" ", findings.Select(f => f.Outcome ?? "-"));
}
