using System.Text.Json;
using System.Text.RegularExpressions;
using ShopDiag.Diagnosis.Causes;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.Diagnosis.Tests.KnowledgeFiles;

/// <summary>The rules of the house for <c>Causes/*.json</c> and <c>Causes/Patterns/*.json</c>.</summary>
public sealed partial class CauseFilesTests
{
    private static readonly string[] Headwork =
        ["exhaust-valve-leak", "intake-valve-leak", "rings-worn", "piston-damaged", "head-gasket-neighbours", "head-gasket-coolant"];

    private static readonly string[] Fuelwork = ["injector-clogged", "injector-leaking", "injector-winding-failed", "intake-leak-runner", "fuel-pressure-low", "fuel-contaminated", "valve-deposits"];

    private static readonly string[] Sparkwork =
        ["plug-worn", "plug-fouled", "plug-cracked", "coil-failed", "shared-coil-failed", "coil-boot-leak", "plug-wire-open", "distributor-cap-rotor", "coil-feed-lost", "coil-control-lost", "connections-crossed", "oil-in-plug-well"];

    private static readonly string[] HighVoltage =
        ["coil-failed", "shared-coil-failed", "coil-boot-leak", "oil-in-plug-well", "plug-wire-open", "distributor-cap-rotor"];

    private static readonly string[] Wiring =
    [
        "coil-feed-lost", "coil-control-lost", "injector-control-lost", "control-module-driver", "airflow-signal-wrong", "ground-or-feed-poor", "crank-signal-faulty",
        "connections-crossed",
    ];

    public static TheoryData<string> Causes => [.. Knowledge.Shipped.Causes.Select(c => c.Id)];

    public static TheoryData<string> Files => [.. typeof(Knowledge).Assembly.GetManifestResourceNames()
        .Select(n => n.Replace('\\', '/')).Where(n => n.StartsWith("Causes/", StringComparison.Ordinal)).Order(StringComparer.Ordinal)];

    // Design, section 5.
    private static readonly string[] Listed =
    [
        "plug-worn", "plug-fouled", "plug-cracked", "coil-failed", "coil-boot-leak", "plug-wire-open", "coil-feed-lost", "coil-control-lost", "injector-clogged",
        "injector-leaking", "injector-winding-failed", "injector-control-lost", "intake-leak-runner", "intake-leak-common", "exhaust-valve-leak", "intake-valve-leak",
        "rings-worn", "piston-damaged", "head-gasket-neighbours", "head-gasket-coolant", "valve-lift-lost", "valve-clearance-tight", "valve-spring-weak", "valve-deposits",
        "cam-timing-off", "fuel-pressure-low", "fuel-contaminated", "airflow-signal-wrong", "egr-open", "exhaust-restricted", "distributor-cap-rotor", "shared-coil-failed",
        "ground-or-feed-poor", "crank-signal-faulty", "control-module-driver", "not-a-misfire",
    ];

    [Fact]
    public void The_causes_are_those_of_the_design_and_two_that_are_easily_missed() => Assert.Equal(
        [.. Listed.Concat(["connections-crossed", "oil-in-plug-well"]).Order(StringComparer.Ordinal)],
        Knowledge.Shipped.Causes.Where(c => !c.Unlisted).Select(c => c.Id));

    [Fact]
    public void Some_cause_speaks_of_every_aspect_of_every_test() => Assert.Empty(
        Knowledge.Shipped.Tests.SelectMany(t => t.Aspects.Select(a => a.Id)).Except(Knowledge.Shipped.Causes.SelectMany(c => c.Shows.Select(r => r.Aspect))));

    [Theory]
    [MemberData(nameof(Causes))]
    public void A_cause_speaks_of_every_reading_that_can_prove_it(string id)
    {
        // A proof may also ask that other things are in order; what is out of order must be the cause's own doing.
        var cause = Knowledge.Shipped.Cause(id)!;
        var silent = cause.Proof.SelectMany(p => p.All)
            .Where(c => !cause.Shows.Any(r => r.Aspect == c.Test) && !c.Outcomes.Any(o => IsGood(c.Test, o)));
        Assert.Empty(silent.Select(c => $"{c.Test}: {string.Join(", ", c.Outcomes)}").Distinct());
    }

    [Theory]
    [MemberData(nameof(Files))]
    public void A_file_is_named_by_its_id_and_its_probabilities_name_every_outcome_and_add_up_to_exactly_one(string file)
    {
        using var json = Read(file);
        Assert.Equal(Path.GetFileNameWithoutExtension(file), json.RootElement.GetProperty("id").GetString());
        if (!json.RootElement.TryGetProperty("shows", out var rules))
        {
            return;
        }

        foreach (var rule in rules.EnumerateArray())
        {
            var aspect = rule.GetProperty("aspect").GetString()!;
            var shows = rule.GetProperty("shows").EnumerateObject().ToArray();
            Assert.Equal(Knowledge.Shipped.Aspect(aspect)!.Value.Aspect.Outcomes.Select(o => o.Id), shows.Select(s => s.Name).OrderBy(n => Rank(aspect, n)));
            Assert.All(shows, s => Assert.InRange(s.Value.GetDecimal(), 0.001m, 0.999m));
            Assert.Equal(1m, shows.Sum(s => s.Value.GetDecimal()));
        }
    }

    // Starter priors (facts 13): plug .30, coil .25, injector .12, air leak .10, fuel supply .05, mechanical .13, sensor and wiring .05. An EGR valve that stays open
    // counts with the air leaks, a blocked exhaust with the mechanical causes.
    [Theory]
    [InlineData(Ignition.CoilOnPlug)]
    [InlineData(Ignition.WasteSpark)]
    public void The_weights_split_the_starter_priors_by_family(Ignition ignition)
    {
        Assert.Equal(0.30, Weight(ignition, "plug-worn", "plug-fouled", "plug-cracked"), 1e-9);
        Assert.Equal(0.25, Weight(ignition, HighVoltage), 1e-9);
        Assert.Equal(0.12, Weight(ignition, "injector-clogged", "injector-leaking", "injector-winding-failed"), 1e-9);
        Assert.Equal(0.10, Weight(ignition, "intake-leak-runner", "intake-leak-common", "egr-open"), 1e-9);
        Assert.Equal(0.05, Weight(ignition, "fuel-pressure-low", "fuel-contaminated"), 1e-9);
        Assert.Equal(0.13, Weight(ignition, [.. Headwork, "valve-lift-lost", "valve-clearance-tight", "valve-spring-weak", "valve-deposits", "cam-timing-off", "exhaust-restricted"]), 1e-9);
        Assert.Equal(0.05, Weight(ignition, [.. Wiring]), 1e-9);
        Assert.Equal(
            Knowledge.Shipped.Causes.Select(c => c.Id).Except(["not-a-misfire", "unlisted"]).Order(StringComparer.Ordinal),
            new[] { ["plug-worn", "plug-fouled", "plug-cracked"], HighVoltage, Headwork, Wiring }.SelectMany(f => f)
                .Concat(["injector-clogged", "injector-leaking", "injector-winding-failed", "intake-leak-runner", "intake-leak-common", "egr-open", "fuel-pressure-low", "fuel-contaminated"])
                .Concat(["valve-lift-lost", "valve-clearance-tight", "valve-spring-weak", "valve-deposits", "cam-timing-off", "exhaust-restricted"])
                .Order(StringComparer.Ordinal));
    }

    [Fact]
    public void The_high_voltage_side_of_a_distributor_weighs_as_much_as_that_of_coils() => Assert.Equal(0.25, Weight(Ignition.Distributor, HighVoltage), 1e-9);

    [Theory]
    [MemberData(nameof(Causes))]
    public void What_a_customer_is_told_is_a_plain_sentence_or_two(string id)
    {
        var cause = Knowledge.Shipped.Cause(id)!;
        foreach (var (said, most) in new[] { (cause.ForCustomer, 1), (cause.IfLeft, 2) })
        {
            Assert.EndsWith(".", said, StringComparison.Ordinal);
            Assert.InRange(said.Count(c => c == '.'), 1, most);
            Assert.InRange(said.Length, 20, 170);
            Assert.DoesNotMatch(Jargon(), said);
        }
    }

    [Theory]
    [MemberData(nameof(Causes))]
    public void A_place_is_named_only_where_the_cause_has_one(string id)
    {
        var cause = Knowledge.Shipped.Cause(id)!;
        var names = new[] { cause.ForCustomer, cause.Repair.Summary }.Select(s => s.Contains("{place}", StringComparison.Ordinal)).ToArray();
        if (!cause.Unlisted)
        {
            Assert.All(names, named => Assert.Equal(cause.Scope != CauseScope.Engine, named));
        }
    }

    [Theory]
    [MemberData(nameof(Causes))]
    public void A_repair_has_parts_labour_and_a_check_that_fits_every_engine_it_is_made_on(string id)
    {
        var cause = Knowledge.Shipped.Cause(id)!;
        if (cause.Unlisted)
        {
            return;
        }

        Assert.InRange(cause.Repair.LabourMinutes, 10, 1500);
        Assert.Equal(cause.Alone, cause.Repair.Parts.IsEmpty);
        Assert.All(cause.Repair.Parts, p => Assert.False(string.IsNullOrWhiteSpace(p.Part)));
        Assert.Equal(cause.Alone, cause.Repair.Parts.All(p => p.Together));
        Assert.Contains(cause.Repair.Check, c => c is "power-balance" or "misfire-counts");
        foreach (var engine in EnginesOf(cause))
        {
            Assert.All(cause.Repair.Check, c => Assert.True(Knowledge.Shipped.Test(c)!.Fits(engine), $"{c} on {engine.Ignition}"));
        }
    }

    [Theory]
    [MemberData(nameof(Causes))]
    public void Work_that_can_hurt_says_so(string id)
    {
        var cautions = string.Join(' ', Knowledge.Shipped.Cause(id)!.Repair.Cautions);
        if (Headwork.Contains(id))
        {
            Assert.Contains("hot cooling system", cautions, StringComparison.Ordinal);
        }

        if (Fuelwork.Contains(id))
        {
            Assert.Contains("under pressure", cautions, StringComparison.Ordinal);
        }

        if (Sparkwork.Contains(id))
        {
            Assert.Contains("can injure or kill", cautions, StringComparison.Ordinal);
        }
    }

    [Theory]
    [MemberData(nameof(Causes))]
    public void Every_cause_exists_on_some_engine_that_ships(string id) => Assert.NotEmpty(EnginesOf(Knowledge.Shipped.Cause(id)!));

    [Fact]
    public void A_lost_coil_feed_or_control_takes_both_companions_with_it_on_waste_spark()
    {
        var engine = Profile("i4-1342-waste-spark-port");
        Assert.All(["coil-feed-lost", "coil-control-lost"], id =>
            Assert.Equal([Place.Pair(1, 4), Place.Pair(2, 3)], Knowledge.Shipped.Cause(id)!.PlacesOn(engine).Order()));
        Assert.Equal(4, Knowledge.Shipped.Cause("coil-feed-lost")!.PlacesOn(Profile("i4-1342-coil-on-plug-port")).Count());
    }

    [Fact]
    public void A_cause_of_one_kind_of_ignition_is_not_looked_for_on_another()
    {
        string[] On(string profile) => [.. Knowledge.Shipped.Causes.Where(c => c.Fits(Profile(profile))).Select(c => c.Id)];
        Assert.DoesNotContain("distributor-cap-rotor", On("i4-1342-coil-on-plug-port"));
        Assert.DoesNotContain("plug-wire-open", On("i4-1342-coil-on-plug-port"));
        Assert.DoesNotContain("coil-failed", On("i4-1342-waste-spark-port"));
        Assert.Contains("shared-coil-failed", On("i4-1342-waste-spark-port"));
        Assert.DoesNotContain("coil-feed-lost", On("i4-1342-distributor-port"));
        Assert.DoesNotContain("injector-clogged", On("i4-1342-distributor-throttle-body"));
    }

    /// <summary>The engines that ship on which a cause exists.</summary>
    internal static IEnumerable<Engine> EnginesOf(Cause cause) =>
        Knowledge.Shipped.Profiles.SelectMany(p => Enum.GetValues<ValveLash>().Select(lash => Engine.Create(p.Spec with { Lash = lash }).Value)).Where(cause.Fits);

    private static Engine Profile(string id) => Engine.Create(Knowledge.Shipped.Profiles.Single(p => p.Id == id).Spec).Value;

    private static double Weight(Ignition ignition, params string[] ids) => Knowledge.Shipped.Causes
        .Where(c => ids.Contains(c.Id) && (c.OnlyIgnition.IsEmpty || c.OnlyIgnition.Contains(ignition))).Sum(c => c.Weight);

    private static bool IsGood(string aspect, string outcome) =>
        Knowledge.Shipped.Aspect(aspect)!.Value.Aspect.Outcomes.Single(o => o.Id == outcome) is { Good: true } or { Healthy: > 0.5 };

    private static int Rank(string aspect, string outcome) =>
        Knowledge.Shipped.Aspect(aspect)!.Value.Aspect.Outcomes.Select((o, i) => (o.Id, i)).Single(p => p.Id == outcome).i;

    private static JsonDocument Read(string file)
    {
        using var stream = typeof(Knowledge).Assembly.GetManifestResourceStream(file)!;
        return JsonDocument.Parse(stream);
    }

    [GeneratedRegex(@"misfir|compression|leak-down|trim|ECU|OBD|P0\d|rpm|kPa|ohm|lean\b.*bank", RegexOptions.IgnoreCase)]
    private static partial Regex Jargon();
}
