using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.Tests.Workups;

/// <summary>A suspected cylinder is compared with two others, where that is enough, and not with all.</summary>
public sealed class ComparedTests
{
    private const string CoveredV6 = """{"layout":"V6","banks":[[1,3,5],[2,4,6]],"firingOrder":[1,2,3,4,5,6],"ignition":"coil-on-plug","injection":"port","accessMinutes":{"1":40}}""";

    [Fact]
    public void It_is_read_first_and_then_two_others_that_are_easy_to_get_at_until_it_is_judged()
    {
        var workup = InjectorSuspected(4).ToList();
        var places = new List<Place>();
        while (places.Count < 6 && Drop(CoveredV6, workup) is { } advice)
        {
            places.Add(advice.At);
            workup.Add(Lines.Reading("injector-drop", advice.At.First, advice.At.First == 4 ? """{"startKPa":380,"endKPa":350}""" : """{"startKPa":380,"endKPa":316}"""));
        }

        // The other bank stays covered.
        Assert.Equal([Place.Cylinder(4), Place.Cylinder(2), Place.Cylinder(6)], places);
        Assert.Equal("low-delivery", Lines.Assess(CoveredV6, [.. workup]).Findings.Single(f => f.Test == "injector-drop" && f.At == Place.Cylinder(4)).Outcome);
    }

    [Fact]
    public void The_advice_says_what_it_is_compared_with()
    {
        var first = Drop(Lines.V6, InjectorSuspected(3))!;
        var then = Drop(Lines.V6, [.. InjectorSuspected(3), Lines.Reading("injector-drop", 3, """{"startKPa":380,"endKPa":350}""")])!;

        Assert.Contains("Read cylinder 1 and cylinder 2 as well, to compare.", first.Because, StringComparison.Ordinal);
        Assert.Contains("It is read to compare cylinder 3 with.", then.Because, StringComparison.Ordinal);
    }

    [Fact]
    public void What_one_run_of_the_engine_gives_is_asked_for_everywhere()
    {
        string[] suspected = [Lines.Reading("spark-output", 3, """{"gapMm":20,"jumps":"steady"}"""), """{"test":"trouble-codes","value":{"codes":["P0303"]}}"""];
        var runs = Lines.Assess(Lines.V6, suspected).Next.Where(n => n.Test is "misfire-counts" or "power-balance" or "cranking-current").ToArray();

        Assert.NotEmpty(runs);
        Assert.All(runs, n => Assert.Equal(Place.Engine, n.At));
    }

    private static NextStepAdvice? Drop(string engine, IEnumerable<string> readings) => Lines.Assess(engine, [.. readings]).Next.FirstOrDefault(n => n.Test == "injector-drop");

    // Weak, with a good spark, a dry normal plug and an injector that sounds otherwise though its winding and its control are good.
    private static IEnumerable<string> InjectorSuspected(params int[] at) =>
    [
        .. Enumerable.Range(1, 6).Select(c => Lines.Reading("misfire-counts", c, at.Contains(c) ? """{"misfires":300,"revolutions":1000}""" : """{"misfires":1,"revolutions":1000}""")),
        .. Lines.Balance(6, at),
        .. at.SelectMany(c => new[]
        {
            Lines.Reading("spark-output", c, """{"gapMm":20,"jumps":"steady"}"""), Lines.Reading("plug-condition", c, """{"gapMm":1,"look":"normal","well":"dry"}"""),
            Lines.Reading("injector-sound", c, """{"sound":"different"}"""), Lines.Reading("intake-leak", c, """{"found":"no"}"""),
            Lines.Reading("injector-resistance", c, """{"ohm":12.4,"celsius":20}"""), Lines.Reading("injector-control", c, """{"signal":"pulsing"}"""),
        }),
    ];
}
