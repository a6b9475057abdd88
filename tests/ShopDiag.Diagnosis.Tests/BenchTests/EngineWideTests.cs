using CsCheck;
using ShopDiag.Diagnosis.BenchTests;
using static ShopDiag.Diagnosis.Tests.Readings.Bench;

namespace ShopDiag.Diagnosis.Tests.Readings;

/// <summary>Voltage, EGR and road check: one reading for the engine.</summary>
public sealed class EngineWideTests
{
    private static readonly string[] Conditions = ["idle", "load", "cold", "hot", "wet", "always", "after-work"];

    private static Reading Voltage(double volts, double? drop = null) => drop is { } d
        ? At(Place.Engine, N("volts", volts), N("groundDropVolts", d))
        : At(Place.Engine, N("volts", volts));

    private static Reading Drive(params string[] conditions) => At(Place.Engine, ("conditions", conditions.Length == 0 ? FieldValue.Null : FieldValue.Of(conditions)));

    private static Reading Blocked(bool gone) => At(Place.Engine, T("misfireGone", gone ? "yes" : "no"));

    [Theory]
    [InlineData(14.1, 0.04, "good")]
    [InlineData(14.1, null, "good")]
    [InlineData(13.2, 0.2, "good")]
    [InlineData(15.0, 0.0, "good")]
    [InlineData(13.1, 0.04, "low")]
    [InlineData(11.8, null, "low")]
    [InlineData(14.1, 0.21, "poor-ground")]
    [InlineData(12.0, 0.9, "poor-ground")]
    [InlineData(16.2, 0.04, null)]
    [InlineData(16.2, 0.5, "poor-ground")]
    public void Voltage_is_judged_by_the_charging_range_and_the_ground_drop(double volts, double? drop, string? outcome)
    {
        var finding = JudgeOne(I4, "system-voltage", Voltage(volts, drop));
        Assert.Equal(outcome, finding.Outcome);
        Assert.Equal(volts, finding.Measure);
    }

    [Fact]
    public void The_reason_gives_both_numbers_and_rules() => Assert.Equal(
        "14.1 V: between 13.2 V and 15 V (the general limit); 0.04 V over the ground, not more than 0.2 V (the general limit).",
        JudgeOne(I4, "system-voltage", Voltage(14.1, 0.04)).Because);

    [Fact]
    public void Overcharging_says_what_to_put_right() =>
        Assert.Contains("regulator", JudgeOne(I4, "system-voltage", Voltage(16.2)).Because, StringComparison.Ordinal);

    [Fact]
    public void Voltages_on_both_sides_of_a_limit_are_taken_again()
    {
        Assert.True(JudgeOne(I4, "system-voltage", Voltage(14), Voltage(12)) is { Outcome: null, TrialsDisagree: true });
        Assert.True(JudgeOne(I4, "system-voltage", Voltage(14, 0.1), Voltage(14, 0.6)) is { Outcome: null, TrialsDisagree: true });
        Assert.Equal("good", JudgeOne(I4, "system-voltage", Voltage(14, 0.1), Voltage(14.3, 0.05)).Outcome);
    }

    [Fact]
    public void An_engine_of_24_volts_has_its_own_limits() => Assert.Equal(
        "good", JudgeOne(I4.With(("system-voltage-min-v", 26.5), ("system-voltage-max-v", 29)), "system-voltage", Voltage(28)).Outcome);

    [Fact]
    public void Any_voltage_is_answered_and_a_smaller_drop_never_makes_the_ground_worse() =>
        Gen.Select(Gen.Double[0, 36], Gen.Double[0, 16], Gen.Double[0, 1]).Sample((volts, drop, share) => Assert.True(
            JudgeOne(I4, "system-voltage", Voltage(volts, drop)).Outcome == "poor-ground" || JudgeOne(I4, "system-voltage", Voltage(volts, drop * share)).Outcome != "poor-ground"));

    [Fact]
    public void Blocking_the_EGR_makes_the_misfire_go_or_stay()
    {
        Assert.Equal("gone", JudgeOne(I4, "egr-block", Blocked(true)).Outcome);
        Assert.Equal("stays", JudgeOne(I4, "egr-block", Blocked(false)).Outcome);
        Assert.True(JudgeOne(I4, "egr-block", Blocked(true), Blocked(false)) is { Outcome: null, TrialsDisagree: true });
    }

    [Fact]
    public void The_road_check_has_an_aspect_for_each_condition() =>
        Assert.Equal(Conditions.Select(c => "when-" + c), Knowledge.Shipped.Test("road-check")!.Aspects.Select(a => a.Id));

    [Fact]
    public void What_is_named_counts_and_what_is_not_named_too()
    {
        var findings = Judge(I4, "road-check", Drive("cold", "idle")).ToDictionary(f => f.Aspect, f => f.Outcome);
        Assert.Equal(Conditions.Length, findings.Count);
        Assert.All(Conditions, c => Assert.Equal(c is "cold" or "idle" ? "named" : "not-named", findings["when-" + c]));
    }

    [Fact]
    public void A_drive_without_a_misfire_names_nothing()
    {
        var findings = Judge(I4, "road-check", Drive());
        Assert.Equal(Conditions.Length, findings.Length);
        Assert.All(findings, f => Assert.Equal("not-named", f.Outcome));
        Assert.All(findings, f => Assert.Equal("It did not misfire during the drive.", f.Because));
    }

    [Fact]
    public void Always_says_nothing_against_what_it_contains()
    {
        var findings = Judge(I4, "road-check", Drive("always")).ToDictionary(f => f.Aspect, f => f.Outcome);
        Assert.Equal("named", findings["when-always"]);
        Assert.DoesNotContain("when-cold", findings.Keys);
        Assert.Equal("not-named", findings["when-wet"]);
        Assert.Equal("named", Judge(I4, "road-check", Drive("always", "cold")).Single(f => f.Aspect == "when-cold").Outcome);
    }

    [Fact]
    public void Two_drives_add_up_and_of_three_most_decide_in_any_order() => Gen.OneOf(Conditions.Select(Gen.Const).ToArray()).Array[0, 4].Array[1, 3].Sample(drives =>
    {
        var findings = Judge(I4, "road-check", drives.Select(d => Drive(d)));
        var least = drives.Length < 3 ? 1 : 2;
        Assert.Equal(Conditions.Where(c => drives.Count(d => d.Contains(c)) >= least).ToHashSet(), findings.Where(f => f.Outcome == "named").Select(f => f.Aspect["when-".Length..]).ToHashSet());
        Assert.Equal(findings, Judge(I4, "road-check", drives.Reverse().Select(d => Drive(d))));
    });

    [Fact]
    public void The_customers_words_take_the_conditions_a_person_may_name() =>
        Assert.Equal(Conditions, Knowledge.Shipped.Test("road-check")!.ConditionsField!.Choices.Select(c => c.Id));
}
