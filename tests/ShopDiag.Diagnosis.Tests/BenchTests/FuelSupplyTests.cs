using CsCheck;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using static ShopDiag.Diagnosis.Tests.Readings.Bench;

namespace ShopDiag.Diagnosis.Tests.Readings;

public sealed class FuelSupplyTests
{
    private static readonly Engine Direct = Make("I4", [[1, 2, 3, 4]], [1, 3, 4, 2], injection: Injection.Direct);
    private static readonly Engine ThrottleBody = Make("I4", [[1, 2, 3, 4]], [1, 3, 4, 2], Ignition.Distributor, Injection.ThrottleBody);

    private static Reading Pressure(double kPa, double? after = null) => after is { } a
        ? At(Place.Engine, N("kPa", kPa), N("afterFiveMinutesKPa", a))
        : At(Place.Engine, N("kPa", kPa));

    private static Reading Swap(int with, int? movedTo) => At(4, N("swappedWith", with), ("misfireMovedTo", movedTo is { } to ? FieldValue.Of((double)to) : FieldValue.Null));

    private static Reading Sample(string seen) => At(Place.Engine, T("seen", seen));

    [Theory]
    [InlineData(385, 360.0, "good")]
    [InlineData(385, null, "good")]
    [InlineData(240, 240.0, "good")]
    [InlineData(450, null, "good")]
    [InlineData(239, 239.0, "low")]
    [InlineData(451, 440.0, "high")]
    [InlineData(0, 0.0, "low")]
    [InlineData(400, 260.0, "good")]
    [InlineData(400, 259.0, "bleeds-down")]
    [InlineData(400, 0.0, "bleeds-down")]
    [InlineData(200, 20.0, "low")]
    [InlineData(400, 430.0, "good")]
    public void Port_injection_is_judged_by_its_general_limits(double kPa, double? after, string outcome)
    {
        var finding = JudgeOne(I4, "fuel-pressure", Pressure(kPa, after));
        Assert.Equal(outcome, finding.Outcome);
        Assert.Equal(kPa, finding.Measure);
        Assert.True(finding.ByDefaultLimit);
    }

    /// <summary>GM allows 34 kPa (5 psi) in the first minute with the pump off; whoever falls on like that for five minutes is not condemned.</summary>
    [Fact]
    public void What_GM_allows_in_a_minute_is_allowed_five_times_over()
    {
        var after = 379 * Math.Pow((379 - 34) / 379.0, 4.5);
        Assert.Equal("good", JudgeOne(I4, "fuel-pressure", Pressure(379, after)).Outcome);
    }

    [Theory]
    [InlineData(5000.0)]
    [InlineData(400.0)]
    public void Direct_injection_without_the_makers_figure_cannot_be_told_and_asks_for_it(double kPa)
    {
        var finding = JudgeOne(Direct, "fuel-pressure", Pressure(kPa, kPa / 2));
        Assert.Null(finding.Outcome);
        Assert.Contains("Enter the maker's least and greatest pressure", finding.Because, StringComparison.Ordinal);
        Assert.False(finding.TrialsDisagree);
    }

    [Fact]
    public void A_throttle_body_is_not_judged_by_a_port_systems_limits_either() => Assert.Null(JudgeOne(ThrottleBody, "fuel-pressure", Pressure(85)).Outcome);

    [Fact]
    public void No_pressure_at_all_is_low_on_any_engine() => Assert.All(
        new[] { I4, Direct, ThrottleBody }, e => Assert.Equal("low", JudgeOne(e, "fuel-pressure", Pressure(3)).Outcome));

    [Theory]
    [InlineData(5000, "good")]
    [InlineData(3900, "low")]
    [InlineData(21000, "high")]
    public void The_makers_figures_hold_for_direct_injection(double kPa, string outcome)
    {
        var finding = JudgeOne(Direct.With(("fuel-pressure-min-kpa", 4000), ("fuel-pressure-max-kpa", 20000)), "fuel-pressure", Pressure(kPa, 200));
        Assert.Equal(outcome, finding.Outcome);
        Assert.False(finding.ByDefaultLimit);
    }

    [Fact]
    public void A_least_pressure_below_the_general_floor_is_believed() =>
        Assert.Equal("good", JudgeOne(ThrottleBody.With(("fuel-pressure-min-kpa", 30), ("fuel-pressure-max-kpa", 90)), "fuel-pressure", Pressure(35)).Outcome);

    [Fact]
    public void Trials_on_both_sides_of_a_limit_are_taken_again()
    {
        Assert.True(JudgeOne(I4, "fuel-pressure", Pressure(200), Pressure(380)) is { Outcome: null, TrialsDisagree: true });
        Assert.True(JudgeOne(I4, "fuel-pressure", Pressure(380, 350), Pressure(380, 100)) is { Outcome: null, TrialsDisagree: true });
        Assert.Equal("good", JudgeOne(I4, "fuel-pressure", Pressure(380, 350), Pressure(385, 340)).Outcome);
    }

    [Fact]
    public void The_reason_says_whether_holding_was_looked_at()
    {
        Assert.EndsWith("whether it holds was not looked at.", JudgeOne(I4, "fuel-pressure", Pressure(385)).Because, StringComparison.Ordinal);
        Assert.EndsWith("after five minutes 94 % of it is left, not less than 65 % (the general limit).", JudgeOne(I4, "fuel-pressure", Pressure(385, 360)).Because, StringComparison.Ordinal);
    }

    [Fact]
    public void Any_pressure_is_answered_and_holding_more_never_makes_it_worse() =>
        Gen.Select(Gen.Double[0, 50000], Gen.Double[0, 1000], Gen.Double[0, 1]).Sample((kPa, after, share) =>
        {
            var more = JudgeOne(I4, "fuel-pressure", Pressure(kPa, after)).Outcome;
            var less = JudgeOne(I4, "fuel-pressure", Pressure(kPa, after * share)).Outcome;
            Assert.True(more != "bleeds-down" || less == "bleeds-down");
        });

    [Theory]
    [InlineData("clean", "clean")]
    [InlineData("water", "contaminated")]
    [InlineData("other", "contaminated")]
    public void A_sample_is_clean_or_contaminated(string seen, string outcome) => Assert.Equal(outcome, JudgeOne(I4, "fuel-sample", Sample(seen)).Outcome);

    [Fact]
    public void Samples_that_differ_in_what_is_wrong_agree_that_something_is()
    {
        Assert.Equal("In the sample: Water; Something else: cloudy, dirty, smells wrong.", JudgeOne(I4, "fuel-sample", Sample("other"), Sample("water")).Because);
        Assert.True(JudgeOne(I4, "fuel-sample", Sample("clean"), Sample("water")) is { Outcome: null, TrialsDisagree: true });
    }

    [Theory]
    [InlineData(1, 1, "follows", "Injector swapped with cylinder 1: the misfire moved there with the injector.")]
    [InlineData(1, 4, "stays", "Injector swapped with cylinder 1: the misfire stayed on cylinder 4, so it is not the injector.")]
    [InlineData(1, null, "gone", "Injector swapped with cylinder 1: the misfire went away, perhaps dirt that was moved or a connector that was only seated badly. Run it longer before trusting it.")]
    [InlineData(1, 2, null, "Injector swapped with cylinder 1: the misfire is now on cylinder 2, which had no part in the swap. Put the injectors back and see where it misfires then.")]
    public void An_injector_swap_tells_where_the_misfire_went(int with, int? movedTo, string? outcome, string because)
    {
        var finding = JudgeOne(I4, "injector-swap", Swap(with, movedTo));
        Assert.Equal(outcome, finding.Outcome);
        Assert.Equal(because, finding.Because);
    }

    [Fact]
    public void Injector_swaps_may_agree_or_differ()
    {
        Assert.Equal("follows", JudgeOne(I4, "injector-swap", Swap(1, 1), Swap(2, 2)).Outcome);
        var differ = JudgeOne(I4, "injector-swap", Swap(1, 1), Swap(2, 4));
        Assert.True(differ is { Outcome: null, TrialsDisagree: true });
        Assert.Equal(differ, JudgeOne(I4, "injector-swap", Swap(2, 4), Swap(1, 1)));
    }

    [Theory]
    [InlineData(Injection.Port, 40)]
    [InlineData(Injection.Direct, 120)]
    public void Direct_injectors_take_two_hours_to_exchange(Injection injection, double least)
    {
        var engine = Make("I4", [[1, 2, 3, 4]], [1, 3, 4, 2], injection: injection);
        Assert.Equal(least, Knowledge.Shipped.Test("injector-swap")!.FirstMinutesOn(engine));
    }
}
