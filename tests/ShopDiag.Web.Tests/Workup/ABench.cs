using System.Collections.Immutable;
using Microsoft.Extensions.Time.Testing;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Shop;
using ShopDiag.Web.Components.WorkupViews;
using ShopDiag.Web.Orders;

namespace ShopDiag.Web.Tests.WorkupViews;

/// <summary>A V6 with a coil on each plug, an order for it, and readings as a technician takes them.</summary>
internal static class ABench
{
    public static readonly DateTimeOffset Noon = new(2026, 4, 14, 12, 0, 0, TimeSpan.Zero);

    public static EngineSpec V6Spec { get; } = new()
    {
        Layout = "V6", Banks = [[1, 3, 5], [2, 4, 6]], FiringOrder = [1, 2, 3, 4, 5, 6], Ignition = Ignition.CoilOnPlug, Injection = Injection.Port,
    };

    public static Engine V6 { get; } = Engine.Create(V6Spec).Value;

    /// <summary>An engine whose firing order differs from its bank order.</summary>
    public static Engine Four { get; } = Engine.Create(new EngineSpec
    {
        Layout = "I4", Banks = [[1, 2, 3, 4]], FiringOrder = [1, 3, 4, 2], Ignition = Ignition.CoilOnPlug, Injection = Injection.Port,
    }).Value;

    public static ShopUnits Us { get; } = new("us", ImmutableDictionary<string, string>.Empty);

    public static ShopUnits Metric { get; } = new("metric", ImmutableDictionary<string, string>.Empty);

    public static ShopClock Clock { get; } = new(new FakeTimeProvider(Noon), new ShopSettings { UnitSystem = "metric" });

    public static BenchTest Test(string id) => Knowledge.Shipped.Test(id)!;

    public static Reading Reading(string test, Place at, params (string Field, FieldValue Value)[] values) => new()
    {
        Test = test, At = at, Value = new ReadingValue(values.Select(v => KeyValuePair.Create(v.Field, v.Value))),
    };

    public static Reading Compression(int cylinder, double kPa) => Reading("compression-dry", Place.Cylinder(cylinder), ("kPa", FieldValue.Of(kPa)));

    public static Reading Spark(int cylinder, string jumps) => Reading("spark-output", Place.Cylinder(cylinder), ("jumps", FieldValue.Of(jumps)));

    public static StoredReading Stored(Reading reading, int sequence = 1, Guid? supersedes = null, bool withdrawn = false, bool superseded = false) => new()
    {
        Id = Guid.NewGuid(), Sequence = sequence, Reading = reading, SupersedesId = supersedes, Withdrawn = withdrawn, Superseded = superseded,
    };

    public static RepairOrder Order(params StoredReading[] readings) => new()
    {
        Id = Guid.NewGuid(), Number = 1042, Stage = OrderStage.InDiagnosis, CreatedAt = Noon.UtcDateTime,
        Customer = new Customer { Id = Guid.NewGuid() },
        Vehicle = new Vehicle { Id = Guid.NewGuid(), Engine = V6Spec, Plate = "TST 42" },
        Readings = [.. readings],
    };

    public static RepairOrder Order(params Reading[] readings) => Order([.. readings.Select((r, i) => Stored(r, i + 1))]);

    public static Finding Finding(string test, Place at, string? outcome, string because = "It was so.", double? measure = null, string? aspect = null) => new()
    {
        Test = test, Aspect = aspect ?? test, At = at, Outcome = outcome, Because = because, Measure = measure,
    };

    /// <summary>An assessment that says nothing but what a test puts into it.</summary>
    public static Assessment Assessment(params Finding[] findings) => new()
    {
        Id = "1", Cylinders = [.. V6.Cylinders.Select(c => new CylinderState(c, CylinderCondition.Unknown, "Not measured yet."))],
        Causes = [], Unlisted = 0.03, Next = [], Conclusion = null, Contradictions = [], Findings = [.. findings], Warnings = [],
    };

    public static RankedCause Coil(int cylinder, double probability, params Effect[] evidence) => new()
    {
        Cause = "coil-failed", At = Place.Cylinder(cylinder), Probability = probability, PriorBits = -5, Proven = false, Evidence = [.. evidence],
    };
}
