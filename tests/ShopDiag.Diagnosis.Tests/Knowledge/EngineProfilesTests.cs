using System.Globalization;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.Diagnosis.Tests.KnowledgeFiles;

/// <summary>The rules of the house for <c>Engines/profiles.json</c>.</summary>
public sealed class EngineProfilesTests
{
    public static TheoryData<string> Profiles => [.. Knowledge.Shipped.Profiles.Select(p => p.Id)];

    [Fact]
    public void A_few_dozen_engines_ship() => Assert.True(Knowledge.Shipped.Profiles.Length >= 36, $"{Knowledge.Shipped.Profiles.Length} engines");

    [Theory]
    [MemberData(nameof(Profiles))]
    public void A_profile_is_an_engine_whose_layout_tells_its_cylinders(string id)
    {
        var engine = Made(id);

        Assert.Equal(int.Parse(engine.Spec.Layout[1..], CultureInfo.InvariantCulture), engine.CylinderCount);
        // The V6 of narrow angle has one head, and so one bank of neighbours.
        Assert.Equal(engine.Spec.Layout[0] == 'I' || id == "v6-narrow-153624" ? 1 : 2, engine.Banks.Length);
    }

    [Theory]
    [MemberData(nameof(Profiles))]
    public void A_title_tells_firing_order_and_ignition_and_the_source_is_named(string id)
    {
        var profile = Profile(id);
        var engine = Made(id);

        Assert.Contains(string.Join('-', engine.FiringOrder), profile.Title, StringComparison.Ordinal);
        Assert.Contains(
            engine.Ignition switch
            {
                Ignition.CoilOnPlug => "coil on plug",
                Ignition.WasteSpark => "waste spark",
                Ignition.CoilNearPlug => "coil with a short lead",
                Ignition.Distributor => "distributor",
                _ => throw new InvalidOperationException($"Unknown ignition {engine.Ignition}."),
            },
            profile.Title, StringComparison.Ordinal);
        Assert.True(
            profile.Source.Contains("Wikipedia", StringComparison.Ordinal) || profile.Source.Contains("From memory", StringComparison.OrdinalIgnoreCase), profile.Source);
    }

    [Theory]
    [MemberData(nameof(Profiles))]
    public void Bank_1_holds_cylinder_1_and_banks_are_listed_front_to_rear(string id)
    {
        var engine = Made(id);

        Assert.Equal(1, engine.BankOf(1));
        Assert.All(engine.Banks, bank => Assert.Equal(bank.Order(), bank));
    }

    [Theory]
    [MemberData(nameof(Profiles))]
    public void A_covered_bank_is_named_in_the_title_and_its_minutes_are_marked(string id)
    {
        var profile = Profile(id);
        if (profile.Spec.AccessMinutes.Count > 0)
        {
            Assert.Contains("transverse", profile.Title, StringComparison.Ordinal);
            Assert.Contains("common practice", profile.Source, StringComparison.Ordinal);
        }
    }

    [Theory]
    [MemberData(nameof(Profiles))]
    public void A_waste_spark_engine_has_a_companion_for_every_cylinder(string id)
    {
        var engine = Made(id);
        if (engine.Ignition == Ignition.WasteSpark)
        {
            Assert.All(engine.Cylinders, c => Assert.NotNull(engine.Companion(c)));
        }
    }

    [Fact]
    public void Every_layout_ignition_and_injection_is_there()
    {
        var specs = Knowledge.Shipped.Profiles.Select(p => p.Spec).ToArray();

        // W16 is left out: no firing order of it is known well enough.
        Assert.Equal(
            ["H4", "H6", "I3", "I4", "I5", "I6", "V10", "V12", "V16", "V6", "V8", "W12", "W8"], specs.Select(s => s.Layout).Distinct().Order(StringComparer.Ordinal));
        Assert.Equal(Enum.GetValues<Ignition>().Order(), specs.Select(s => s.Ignition).Distinct().Order());
        Assert.Equal(Enum.GetValues<Injection>().Order(), specs.Select(s => s.Injection).Distinct().Order());
        Assert.Contains(specs, s => s.Hybrid);
        Assert.Contains(specs, s => !s.FiringIntervals.IsDefaultOrEmpty);
    }

    [Fact]
    public void No_engine_is_there_twice() =>
        Assert.Equal(Knowledge.Shipped.Profiles.Length, Knowledge.Shipped.Profiles.Select(p => p.Title).Distinct(StringComparer.Ordinal).Count());

    private static EngineProfile Profile(string id) => Knowledge.Shipped.Profiles.Single(p => p.Id == id);

    private static Engine Made(string id) => Engine.Create(Profile(id).Spec).Value;
}
