using System.Collections.Immutable;
using System.Text.RegularExpressions;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.Diagnosis.Tests.Engines;

/// <summary>The ways to cancel one cylinder on a running engine. Source: common practice; Cerullo, Motor 161(2), 1984.</summary>
public sealed partial class CancelMethodTests
{
    public static TheoryData<Ignition, Injection, bool> Engines => [.. from ignition in Enum.GetValues<Ignition>()
                                                                      from injection in Enum.GetValues<Injection>()
                                                                      from hybrid in new[] { false, true }
                                                                      select new TheoryDataRow<Ignition, Injection, bool>(ignition, injection, hybrid)];

    [Theory]
    [InlineData(Ignition.CoilOnPlug, Injection.Port, "command, unplug-injector, unplug-coil")]
    [InlineData(Ignition.CoilOnPlug, Injection.Direct, "command, unplug-coil")]
    [InlineData(Ignition.WasteSpark, Injection.Port, "command, unplug-injector, short-lead")]
    [InlineData(Ignition.CoilNearPlug, Injection.Direct, "command, short-lead")]
    [InlineData(Ignition.Distributor, Injection.ThrottleBody, "command, short-lead")]
    public void The_ways_suit_ignition_and_injection_gentlest_on_the_catalyst_first(Ignition ignition, Injection injection, string ways) =>
        Assert.Equal(ways, string.Join(", ", For(ignition, injection).Select(w => w.Id)));

    [Theory]
    [MemberData(nameof(Engines))]
    public void A_live_lead_is_never_pulled_by_hand(Ignition ignition, Injection injection, bool hybrid)
    {
        var ways = For(ignition, injection, hybrid);

        Assert.All(ways, w => Assert.DoesNotMatch(PullsALead(), $"{w.Title} {w.How}"));
        Assert.All(ways.Where(w => w.Id == "short-lead"), w =>
        {
            Assert.Contains("Never pull a live plug lead by hand.", w.Cautions);
            Assert.StartsWith("Engine off:", w.How, StringComparison.Ordinal);
        });
    }

    [Theory]
    [MemberData(nameof(Engines))]
    public void Who_cuts_the_spark_is_told_of_the_voltage_and_who_leaves_fuel_unburnt_of_the_time(Ignition ignition, Injection injection, bool hybrid)
    {
        foreach (var way in For(ignition, injection, hybrid))
        {
            var cautions = string.Join(' ', way.Cautions);
            Assert.Equal(way.Id is "unplug-coil" or "short-lead", cautions.Contains("pacemaker", StringComparison.Ordinal));
            Assert.Equal(way.Id != "unplug-injector", cautions.Contains("overheats the catalyst", StringComparison.Ordinal));
            Assert.Contains("keep clear of belts", cautions, StringComparison.Ordinal);
        }
    }

    [Theory]
    [MemberData(nameof(Engines))]
    public void A_hybrid_may_start_by_itself_and_carries_lethal_voltage(Ignition ignition, Injection injection, bool hybrid) =>
        Assert.All(For(ignition, injection, hybrid), way => Assert.Equal(
            hybrid, way.Cautions.Any(c => c.Contains("start and stop by itself", StringComparison.Ordinal) && c.Contains("lethal voltage", StringComparison.Ordinal))));

    private static ImmutableArray<CancelMethod> For(Ignition ignition, Injection injection, bool hybrid = false) => CancelMethod.For(Engine.Create(
        EngineGeometryTests.Spec("I4", "1,2,3,4", "1-3-4-2") with { Ignition = ignition, Injection = injection, Hybrid = hybrid }).Value);

    [GeneratedRegex(@"pull", RegexOptions.IgnoreCase)]
    private static partial Regex PullsALead();
}
