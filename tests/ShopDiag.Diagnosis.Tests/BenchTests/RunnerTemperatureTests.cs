using System.Collections.Immutable;
using CsCheck;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;
using static ShopDiag.Diagnosis.Tests.Readings.Bench;

namespace ShopDiag.Diagnosis.Tests.Readings;

public sealed class RunnerTemperatureTests
{
    private static Reading Runner(int cylinder, double celsius) => At(cylinder, N("celsius", celsius));

    private static ImmutableArray<Finding> Runners(Engine engine, params double[] celsius) => Judge(engine, "runner-temperature", celsius.Select((c, i) => Runner(i + 1, c)));

    [Theory]
    [InlineData("all alike", "even even even even", 240.0, 250.0, 235.0, 245.0)]
    [InlineData("one cold", "even even even cold", 240.0, 250.0, 235.0, 90.0)]
    [InlineData("one hot", "even hot even even", 240.0, 360.0, 235.0, 245.0)]
    [InlineData("two cold", "even cold cold even", 240.0, 100.0, 95.0, 245.0)]
    [InlineData("no colder than 75 percent of the way", "even even even even", 220.0, 220.0, 220.0, 170.0)]
    [InlineData("just colder than that", "even even even cold", 220.0, 220.0, 220.0, 169.0)]
    [InlineData("not warm yet", "- - - -", 60.0, 62.0, 58.0, 30.0)]
    [InlineData("one alone", "-", 240.0)]
    [InlineData("two of four", "- -", 240.0, 90.0)]
    public void A_runner_is_judged_beside_the_sound_ones(string _, string outcomes, params double[] celsius) => Assert.Equal(outcomes, Runners(I4, celsius).Outcomes());

    [Fact]
    public void Three_cold_of_a_six_leave_the_others_even() =>
        Assert.Equal("cold even cold even cold even", Runners(V6, 100, 250, 105, 240, 95, 245).Outcomes());

    [Fact]
    public void What_the_others_scatter_by_as_well_cannot_be_told()
    {
        var findings = Runners(V6, 150, 220, 300, 180, 260, 340);
        Assert.Null(findings.On(1).Outcome);
        Assert.Contains("scatter", findings.On(1).Because, StringComparison.Ordinal);
    }

    [Fact]
    public void Trials_on_both_sides_of_a_limit_are_taken_again()
    {
        var findings = Judge(I4, "runner-temperature", Runner(1, 240), Runner(2, 245), Runner(3, 235), Runner(4, 90), Runner(4, 240));
        Assert.True(findings.On(4) is { Outcome: null, TrialsDisagree: true });
    }

    [Fact]
    public void A_cold_runner_says_that_the_cylinder_misfires_and_the_reason_gives_the_numbers()
    {
        var finding = Runners(I4, 220, 220, 220, 120).On(4);
        Assert.Equal("120 °C (248 °F), while the sound ones are near 220 °C (428 °F): it warmed up by 50 % of what they did, less than 75 % (the general limit): little or nothing burns there.", finding.Because);
        Assert.Equal(CylinderCondition.Misfiring, Knowledge.Shipped.Aspect("runner-temperature")!.Value.Aspect.Outcomes.Single(o => o.Id == "cold").State);
    }

    [Fact]
    public void Any_temperatures_are_answered_and_warmer_never_makes_an_even_runner_cold() =>
        Gen.Select(Gen.Double[-40, 1000].Array[3], Gen.Double[-40, 1000], Gen.Double[0, 300]).Sample((others, celsius, more) =>
        {
            string? Outcome(double own) => Runners(I4, [.. others, own]).On(4).Outcome;
            Assert.False(Outcome(celsius) == "even" && Outcome(celsius + more) == "cold");
        });

    [Fact]
    public void Numbering_the_runners_otherwise_numbers_the_findings_otherwise() => Gen.Select(Gen.Double[20, 500].Array[4], Numberings).Sample((celsius, number) =>
        Assert.Equal(
            Runners(I4, celsius).Select(f => f with { At = Place.Cylinder(number[f.At.First - 1]) }).OrderBy(f => f.At),
            Judge(I4, "runner-temperature", celsius.Select((c, i) => Runner(number[i], c)))));

    [Fact]
    public void Heat_is_warned_of() =>
        Assert.Contains(Knowledge.Shipped.Test("runner-temperature")!.Cautions, c => c.Contains("burn", StringComparison.Ordinal));
}
