using ShopDiag.Diagnosis.Wire;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.Tests.Workups;

/// <summary>What cannot be taken on a car is no evidence, and nothing is planned through it.</summary>
public sealed class ObstacleTests
{
    // Weak at cylinder 3 with a good spark: much is left to ask.
    private static readonly Workup Weak = Lines.Workup(Lines.I4, [.. Lines.Balance(4, 3), Lines.Reading("spark-output", 3, """{"gapMm":20,"jumps":"steady"}""")]);

    [Fact]
    public void Every_proposed_test_is_gone_from_the_plan_once_it_cannot_be_taken_and_another_comes_in_its_place()
    {
        var workup = Weak;
        var seen = new List<string>();
        for (var i = 0; i < 60 && Diagnostician.Assess(workup, Knowledge.Shipped).Next.FirstOrDefault(n => n.Test is not null) is { } next; i++)
        {
            Assert.DoesNotContain(next.Test, seen);
            seen.Add(next.Test!);
            workup = workup with { Obstacles = workup.Obstacles.Add(new Obstacle(next.Test!, Place.Engine)) };
        }

        Assert.True(seen.Count > 15, $"Only {seen.Count} tests were proposed: {string.Join(", ", seen)}.");
        Assert.DoesNotContain(Diagnostician.Assess(workup, Knowledge.Shipped).Next, n => n.Test is not null);
    }

    [Fact]
    public void What_cannot_be_taken_at_one_cylinder_is_still_proposed_at_others_and_never_there()
    {
        var blocked = Weak with { Obstacles = [.. Knowledge.Shipped.Tests.Where(t => t.Takes(PlaceKind.Cylinder)).Select(t => new Obstacle(t.Id, Place.Cylinder(3)))] };
        var next = Diagnostician.Assess(blocked, Knowledge.Shipped).Next;

        Assert.Contains(Diagnostician.Assess(Weak, Knowledge.Shipped).Next, n => n.At == Place.Cylinder(3));
        Assert.DoesNotContain(next, n => n.At == Place.Cylinder(3));
        Assert.NotEmpty(next);
    }

    [Fact]
    public void It_speaks_for_and_against_no_cause()
    {
        var before = Diagnostician.Assess(Weak, Knowledge.Shipped);
        var after = Diagnostician.Assess(Weak with { Obstacles = [new("leak-down", Place.Engine), new("compression-dry", Place.Cylinder(3))] }, Knowledge.Shipped);

        Assert.Equal(before.Causes.Select(c => (c.Cause, c.At, c.Probability)), after.Causes.Select(c => (c.Cause, c.At, c.Probability)));
        Assert.Equal(before.Findings, after.Findings);
    }

    [Fact]
    public void A_cylinder_that_cannot_be_reached_is_no_companion_to_compare_with()
    {
        string[] readings =
        [
            .. Enumerable.Range(1, 6).Select(c => Lines.Reading("misfire-counts", c, c == 4 ? """{"misfires":300,"revolutions":1000}""" : """{"misfires":1,"revolutions":1000}""")),
            .. Lines.Balance(6, 4), Lines.Reading("spark-output", 4, """{"gapMm":20,"jumps":"steady"}"""), Lines.Reading("plug-condition", 4, """{"gapMm":1,"look":"normal","well":"dry"}"""),
            Lines.Reading("injector-sound", 4, """{"sound":"different"}"""), Lines.Reading("intake-leak", 4, """{"found":"no"}"""),
            Lines.Reading("injector-resistance", 4, """{"ohm":12.4,"celsius":20}"""), Lines.Reading("injector-control", 4, """{"signal":"pulsing"}"""),
        ];
        var workup = Lines.Workup(Lines.V6, readings) with { Obstacles = [new("injector-drop", Place.Cylinder(2)), new("injector-drop", Place.Cylinder(1))] };
        var places = new List<Place>();
        while (places.Count < 6 && Diagnostician.Assess(workup, Knowledge.Shipped).Next.FirstOrDefault(n => n.Test == "injector-drop") is { At.Kind: PlaceKind.Cylinder } advice)
        {
            places.Add(advice.At);
            var drop = Lines.Reading("injector-drop", advice.At.First, advice.At.First == 4 ? """{"startKPa":380,"endKPa":350}""" : """{"startKPa":380,"endKPa":316}""");
            readings = [.. readings, drop];
            workup = Lines.Workup(Lines.V6, readings) with { Obstacles = workup.Obstacles };
        }

        Assert.Equal(Place.Cylinder(4), places[0]);
        Assert.Equal(3, places.Count);
        Assert.DoesNotContain(places, p => p.First is 1 or 2);
    }

    [Fact]
    public void After_a_repair_that_did_not_help_it_still_stands()
    {
        string[] readings =
        [
            .. Lines.Balance(4, 3), Lines.Reading("spark-output", 3, """{"jumps":"none"}"""), Lines.Reading("coil-feed", 3, """{"volts":12.4}"""),
            Lines.Reading("coil-control", 3, """{"signal":"present"}"""),
            .. Lines.Balance(4, 3).Select(r => r.Replace("\"value\"", "\"stage\":\"after\",\"value\"", StringComparison.Ordinal)),
        ];
        var open = Lines.Workup(Lines.I4, readings);
        var first = Diagnostician.Assess(open, Knowledge.Shipped).Next.First(n => n.Test is not null).Test!;
        var next = Diagnostician.Assess(open with { Obstacles = [new(first, Place.Engine)] }, Knowledge.Shipped).Next;

        Assert.NotEmpty(next);
        Assert.DoesNotContain(next, n => n.Test == first);
    }

    [Fact]
    public void A_check_after_the_repair_that_cannot_be_taken_is_not_asked_for()
    {
        string[] readings =
        [
            .. Lines.Balance(4, 3), Lines.Reading("spark-output", 3, """{"jumps":"none"}"""), Lines.Reading("coil-feed", 3, """{"volts":12.4}"""), Lines.Reading("coil-control", 3, """{"signal":"present"}"""),
        ];
        var proven = Lines.Workup(Lines.I4, readings);
        var asked = Diagnostician.Assess(proven, Knowledge.Shipped);
        var check = asked.Next.First(n => n.Test is not null);

        Assert.NotNull(asked.Conclusion);
        Assert.DoesNotContain(Diagnostician.Assess(proven with { Obstacles = [new(check.Test!, Place.Engine)] }, Knowledge.Shipped).Next, n => n.Test == check.Test);
    }

    [Theory]
    [InlineData("""{"test":"no-such-test"}""", "obstacles[0].test")]
    [InlineData("""{"cylinder":1}""", "obstacles[0].test")]
    [InlineData("""{"test":"leak-down","cylinder":7}""", "obstacles[0].cylinder")]
    [InlineData("""{"test":"leak-down","bank":1}""", "obstacles[0].cylinder")]
    [InlineData("""{"test":"leak-down","cylinder":"one"}""", "obstacles[0].cylinder")]
    [InlineData("\"leak-down\"", "obstacles[0]")]
    public void A_wrong_one_is_refused_where_it_is_wrong(string obstacle, string at)
    {
        var (id, workup) = WorkupJson.Read($$"""{"id":"w","engine":{{Lines.I4}},"obstacles":[{{obstacle}}]}""", Knowledge.Shipped);

        Assert.Equal("w", id);
        Assert.Equal(at, workup.Error!.At);
        Assert.NotEmpty(workup.Error.Message);
    }

    [Fact]
    public void It_travels_with_the_workup()
    {
        var workup = Lines.Read($$"""{"id":"w","engine":{{Lines.I4}},"obstacles":[{"test":"leak-down","cylinder":3,"why":"no adapter fits"},{"test":"fuel-pressure","colour":"red"}]}""");

        Assert.Equal([new Obstacle("leak-down", Place.Cylinder(3)) { Why = "no adapter fits" }, new Obstacle("fuel-pressure", Place.Engine)], workup.Obstacles);
        Assert.Contains(workup.Remarks, r => r.Contains("'colour'", StringComparison.Ordinal));
    }
}
