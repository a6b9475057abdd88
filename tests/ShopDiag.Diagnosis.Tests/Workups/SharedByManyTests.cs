using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.Tests.Workups;

/// <summary>What many cylinders share need not show at each of them to be proved, and so the look that shows it is worth taking.</summary>
public sealed class SharedByManyTests
{
    private const string Burnt = """{"seen":"terminal-burnt"}""";
    private const string Whole = """{"seen":"sound"}""";
    private const string V8 = """{"layout":"V8","banks":[[1,3,5,7],[2,4,6,8]],"firingOrder":[1,8,4,3,6,5,7,2],"ignition":"distributor","injection":"port"}""";
    private const string InTheWet = """{"codes":["P0300"],"when":["wet","load"]}""";

    private static Assessment Assess(params string[] readings) => Diagnostician.Assess(Lines.Workup(V8, readings, InTheWet), Knowledge.Shipped);

    [Fact]
    public void A_cap_that_is_likely_is_looked_into_before_anything_that_takes_longer()
    {
        var come = Assess();

        Assert.Equal("distributor-cap-rotor", come.Causes[0].Cause);
        Assert.Equal("leads-and-cap", come.Next[0].Test);
    }

    [Fact]
    public void Two_burnt_terminals_prove_the_cap_wherever_they_are_and_one_does_not()
    {
        var one = Assess(Lines.Reading("leads-and-cap", 3, Burnt));
        var two = Assess(Lines.Reading("leads-and-cap", 3, Burnt), Lines.Reading("leads-and-cap", 5, Whole), Lines.Reading("leads-and-cap", 8, Burnt));

        Assert.Null(one.Conclusion);
        Assert.Equal(new ProvenCause("distributor-cap-rotor", Place.Engine), Assert.Single(two.Conclusion!.Causes));
        Assert.Equal([3, 8], two.Conclusion.Proof.Select(p => p.At.First));
    }

    [Fact]
    public void Where_too_few_terminals_are_left_nothing_is_looked_at_again_for_the_cap()
    {
        string[] seven = [.. Enumerable.Range(1, 7).Select(c => Lines.Reading("leads-and-cap", c, Whole))];
        var whole = Assess([.. seven, .. seven]);

        Assert.All(whole.Next.Where(n => n.Test == "leads-and-cap"), n => Assert.Equal(Place.Cylinder(8), n.At));
        Assert.DoesNotContain(whole.Causes, c => c.Cause == "distributor-cap-rotor" && c.Probability > 0.05);
    }

    /// <summary>Two cylinders share each coil: a driver that is dead there says nothing of a signal that all coils share.</summary>
    [Fact]
    public void Two_cylinders_on_one_coil_are_one_witness()
    {
        const string Absent = """{"signal":"absent"}""";
        string[] coded = ["""{"test":"trouble-codes","value":{"codes":["P0335","P0300"]}}""", Lines.Reading("coil-control", 2, Absent)];
        string[] Proof(params string[] readings) => [.. (Lines.Assess(Lines.I4WasteSpark, readings).Conclusion?.Causes ?? []).Select(c => c.Cause)];

        Assert.DoesNotContain("crank-signal-faulty", Proof([.. coded, Lines.Reading("coil-control", 3, Absent)]));
        Assert.Contains("crank-signal-faulty", Proof([.. coded, Lines.Reading("coil-control", 4, Absent)]));
    }

    [Fact]
    public void Terminals_are_looked_at_where_the_most_was_found_wrong()
    {
        var counted = Assess([.. Enumerable.Range(1, 8).Select(c => Lines.Reading("misfire-counts", c, c is 6 or 7 ? """{"misfires":300,"revolutions":1000}""" : """{"misfires":1,"revolutions":1000}"""))]);

        Assert.Contains(counted.Next.First(n => n.Test == "leads-and-cap").At.First, new[] { 6, 7 });
    }

    /// <summary>A worn cap still serves the small need of an idling engine: all cylinders pull there, and that is one witness and not eight.</summary>
    [Fact]
    public void Eight_cylinders_that_all_pull_at_idle_do_not_acquit_a_cap_that_fails_under_load()
    {
        var idling = Assess([.. Lines.Balance(8)]);

        Assert.InRange(idling.Causes.First(c => c.Cause == "distributor-cap-rotor").Probability, 0.3, 1);
    }

    /// <summary>Common practice: gas that cannot leave makes the running pressure far too high; the exhaust valve hardly opens.</summary>
    [Fact]
    public void A_cylinder_that_does_not_empty_points_to_its_valves_before_its_plug()
    {
        string[] dead =
        [
            .. Lines.Balance(4, 2), Lines.Reading("spark-output", 2, """{"gapMm":20,"jumps":"steady"}"""), Lines.Reading("plug-condition", 2, """{"gapMm":1,"look":"fuel-wet","well":"dry"}"""),
        ];
        var usual = Lines.Assess(Lines.I4, [.. dead, Lines.Reading("compression-running", 2, """{"idleKPa":430,"snapKPa":880}""")]);
        var high = Lines.Assess(Lines.I4, [.. dead, Lines.Reading("compression-running", 2, """{"idleKPa":780,"snapKPa":880}""")]);

        Assert.InRange(usual.Cause("valve-lift-lost", Place.Cylinder(2)).Probability, 0, 0.1);
        Assert.Equal(("valve-lift-lost", Place.Cylinder(2)), (high.Causes[0].Cause, high.Causes[0].At));
        Assert.Contains(high.Next.Take(3), n => n.Test == "valve-lift" && n.At == Place.Cylinder(2));
        Assert.DoesNotContain(usual.Next.Take(3), n => n.Test == "valve-lift");
    }
}
