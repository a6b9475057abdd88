using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Tests.KnowledgeFiles;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.Tests.Workups;

/// <summary>
/// A valve without play leaks like a burnt one. Where the play can be set it is measured before a head comes off (common practice); hydraulic lifters have none to measure.
/// </summary>
public sealed class ValveLashTests
{
    private static Assessment Leaking(ValveLash lash, string? clearance = null)
    {
        var engine = Engine.Create(Knowledge.Shipped.Profiles.Single(p => p.Id == "i4-1342-coil-on-plug-port").Spec with { Lash = lash }).Value;
        var at = Place.Cylinder(2);
        (string, Place, string)[] wanted =
        [
            .. engine.Cylinders.Select(c => ("compression-dry", Place.Cylinder(c), c == 2 ? "low" : "good")),
            .. engine.Cylinders.Select(c => ("power-balance", Place.Cylinder(c), c == 2 ? "dead" : "contributing")),
            ("leak-down", at, "leaks-exhaust"),
            .. clearance is null ? [] : new[] { ("valve-clearance", at, clearance) },
        ];
        return Diagnostician.Assess(new Workup { Engine = engine, Readings = [.. ShownReadings.For(engine, wanted)] }, Knowledge.Shipped);
    }

    [Fact]
    public void Where_it_can_be_set_a_leaking_exhaust_valve_is_not_proven_until_the_clearance_is_measured()
    {
        var open = Leaking(ValveLash.Adjusted);
        Assert.Null(open.Conclusion);
        Assert.Contains(open.Next, n => n.Test == "valve-clearance");
        Assert.Equal(["exhaust-valve-leak"], Leaking(ValveLash.Adjusted, "within").Conclusion!.Causes.Select(c => c.Cause));
        Assert.Equal(["valve-clearance-tight"], Leaking(ValveLash.Adjusted, "tight").Conclusion!.Causes.Select(c => c.Cause));
    }

    [Fact]
    public void Hydraulic_lifters_have_no_clearance_to_measure_and_none_to_blame()
    {
        var answer = Leaking(ValveLash.Hydraulic);
        Assert.Equal(["exhaust-valve-leak"], answer.Conclusion!.Causes.Select(c => c.Cause));
        Assert.DoesNotContain(answer.Causes, c => c.Cause == "valve-clearance-tight");
    }

    [Fact]
    public void Where_it_is_not_known_the_leak_proves_the_valve_unless_a_tight_clearance_was_found()
    {
        Assert.Equal(["exhaust-valve-leak"], Leaking(ValveLash.Unknown).Conclusion!.Causes.Select(c => c.Cause));
        Assert.Equal(["valve-clearance-tight"], Leaking(ValveLash.Unknown, "tight").Conclusion!.Causes.Select(c => c.Cause));
    }
}
