using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.Tests.Workups;

/// <summary>Gas fed in with the air: a lean cylinder wakes up, another does not (Heywood, Internal Combustion Engine Fundamentals: a mixture burns between its lean and its rich limit only).</summary>
public sealed class EnrichmentTests
{
    private const string Misfires = """{"misfires":400,"revolutions":1000}""";
    private const string Clean = """{"misfires":1,"revolutions":1000}""";
    private static readonly Place Suspect = Place.Cylinder(2);

    // Cylinder 2 misfires and does not pull; spark and plug are good, its injector ticks.
    private static readonly string[] Lean =
    [
        .. Enumerable.Range(1, 4).Select(c => Lines.Reading("misfire-counts", c, c == 2 ? Misfires : Clean)), .. Lines.Balance(4, 2),
        Lines.Reading("spark-output", 2, """{"gapMm":20,"jumps":"steady"}"""), Lines.Reading("plug-condition", 2, """{"gapMm":1,"look":"normal","well":"dry"}"""),
        Lines.Reading("injector-sound", 2, """{"sound":"ticking"}"""), .. Enumerable.Range(1, 4).Select(c => Lines.Reading("injector-resistance", c, """{"ohm":12.4,"celsius":25}""")),
    ];

    [Theory]
    [InlineData("less", true)]
    [InlineData("same", false)]
    [InlineData("more", false)]
    public void A_cylinder_that_wakes_up_with_gas_lacks_fuel_or_has_too_much_air(string with, bool lean)
    {
        var (before, after) = (Lines.Assess(Lines.I4, Lean), Lines.Assess(Lines.I4, [.. Lean, Gas(2, with)]));

        Assert.Equal(lean, after.Cause("injector-clogged", Suspect).Probability > before.Cause("injector-clogged", Suspect).Probability);
        Assert.Equal(lean, after.Cause("intake-leak-runner", Suspect).Probability > before.Cause("intake-leak-runner", Suspect).Probability);
    }

    [Fact]
    public void Gas_that_makes_it_worse_speaks_for_a_cylinder_that_is_too_rich()
    {
        string[] rich = [.. Lean.Where(l => !l.Contains("plug-condition", StringComparison.Ordinal)), Lines.Reading("plug-condition", 2, """{"gapMm":1,"look":"fuel-wet","well":"dry"}""")];

        Assert.True(Lines.Assess(Lines.I4, [.. rich, Gas(2, "more")]).Cause("injector-leaking", Suspect).Probability > 2 * Lines.Assess(Lines.I4, rich).Cause("injector-leaking", Suspect).Probability);
    }

    [Fact]
    public void It_is_proposed_where_a_cylinder_may_be_lean_and_not_where_none_misfires()
    {
        string[] sound = [.. Enumerable.Range(1, 4).Select(c => Lines.Reading("misfire-counts", c, Clean)), .. Lines.Balance(4), """{"test":"trouble-codes","value":{"codes":["P0171"]}}"""];

        Assert.Contains(Lines.Assess(Lines.I4, Lean).Next, n => n.Test == "enrichment" && n.At == Suspect);
        Assert.DoesNotContain(Lines.Assess(Lines.I4, sound).Next, n => n.Test == "enrichment");
    }

    [Fact]
    public void With_no_leak_seen_twice_it_proves_the_injector_without_a_pressure_drop_unless_it_misfires_cold()
    {
        var none = Lines.Reading("intake-leak", 2, """{"found":"no"}""");
        string[] once = [.. Lean, Gas(2, "less"), Lines.Reading("injector-control", 2, """{"signal":"pulsing"}"""), none];
        const string cold = """{"test":"road-check","value":{"conditions":["cold"]}}""";

        Assert.Null(Lines.Assess(Lines.I4, once).Conclusion);
        Assert.Equal("injector-clogged", Assert.Single(Lines.Assess(Lines.I4, [.. once, none]).Conclusion!.Causes).Cause);
        Assert.Null(Lines.Assess(Lines.I4, [.. once, none, cold]).Conclusion);
    }

    [Fact]
    public void A_leak_that_all_share_is_proved_at_one_look_where_the_banks_are_lean_each_in_its_way_and_the_fuel_pressure_is_right()
    {
        string[] trims =
        [
            """{"bank":1,"test":"fuel-trims","value":{"idle":{"shortPercent":10,"longPercent":12},"2500rpm":{"shortPercent":1,"longPercent":1}}}""",
            """{"bank":2,"test":"fuel-trims","value":{"idle":{"shortPercent":10,"longPercent":12},"2500rpm":{"shortPercent":8,"longPercent":12}}}""",
        ];
        string[] all = [.. trims, """{"test":"intake-leak","value":{"found":"yes","where":"hose"}}""", """{"test":"fuel-pressure","value":{"kPa":385,"afterFiveMinutesKPa":360}}"""];
        var answer = Lines.Assess(Lines.V6, all);

        Assert.Equal(["lean-at-idle", "lean-everywhere"], answer.Findings.Where(f => f.Aspect == "fuel-trims").OrderBy(f => f.At).Select(f => f.Outcome));
        Assert.Equal("intake-leak-common", Assert.Single(answer.Conclusion!.Causes).Cause);
    }

    [Fact]
    public void A_repair_to_be_tried_is_named_after_the_likeliest_cause_that_it_mends()
    {
        // The drop speaks for the injector, clogged or by its winding, which this shop cannot measure: one new injector mends both, and the winding would be the dearer to prove.
        string[] drop = [.. Lean.Where(l => !l.Contains("injector-resistance", StringComparison.Ordinal)), Lines.Reading("intake-leak", 2, """{"found":"no"}"""),
            .. Enumerable.Range(1, 4).Select(c => Lines.Reading("injector-drop", c, c == 2 ? """{"startKPa":380,"endKPa":372}""" : """{"startKPa":380,"endKPa":316}"""))];
        var shop = new ShopSetup { Tools = ["scan-tool", "spark-tester", "fuel-pressure-gauge", "injector-pulse-tool", "stethoscope", "smoke-or-spray"] };
        var answer = Diagnostician.Assess(Lines.Workup(Lines.I4, drop) with { Shop = shop }, Knowledge.Shipped);

        Assert.True(answer.Cause("injector-clogged", Suspect).Probability > answer.Cause("injector-winding-failed", Suspect).Probability);
        Assert.StartsWith("Clean or replace", Assert.Single(answer.Next, n => n.Unproven).Repair!.Summary, StringComparison.Ordinal);
    }

    private static string Gas(int cylinder, string with) => Lines.Reading("enrichment", cylinder, $$"""{"misfires":"{{with}}"}""");
}
