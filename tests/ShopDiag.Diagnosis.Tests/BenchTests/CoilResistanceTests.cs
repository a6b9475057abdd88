using CsCheck;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Quantities;
using ShopDiag.Diagnosis.Workups;
using static ShopDiag.Diagnosis.Tests.Readings.Bench;

namespace ShopDiag.Diagnosis.Tests.Readings;

public sealed class CoilResistanceTests
{
    private static readonly Engine WithMakersFigures = I4.With(("coil-primary-min-ohm", 0.45), ("coil-primary-max-ohm", 0.55));

    private static Reading Coil(int cylinder, double primary, double? secondary = null, double? celsius = 20) => new()
    {
        Test = "", At = Place.Cylinder(cylinder),
        Value = new ReadingValue(new (string Field, double? Value)[] { ("primaryOhm", primary), ("secondaryOhm", secondary), ("celsius", celsius) }
            .Where(f => f.Value is not null).Select(f => KeyValuePair.Create(f.Field, FieldValue.Of(f.Value!.Value)))),
    };

    private static string Primaries(Engine engine, params double[] ohms) => Judge(engine, "coil-resistance", ohms.Select((o, i) => Coil(i + 1, o))).Outcomes();

    private static string Secondaries(params double[] ohms) => Judge(I4, "coil-resistance", ohms.Select((o, i) => Coil(i + 1, 0.6, o))).Outcomes();

    /// <summary>D18: 0.50 ohm at 20 C is 0.657 ohm at 100 C (copper, Dellinger, NBS Bulletin 7, 1911), so a hot coil is not out of limits.</summary>
    [Theory]
    [InlineData(0.50, 20, "within")]
    [InlineData(0.657, 100, "within")]
    [InlineData(0.657, 20, "out")]
    [InlineData(0.40, -20, "within")]
    [InlineData(0.40, 20, "out")]
    public void D18_the_makers_figures_hold_at_20_degrees(double ohm, double celsius, string outcome)
    {
        var finding = JudgeOne(WithMakersFigures, "coil-resistance", Coil(1, ohm, celsius: celsius));
        Assert.Equal(outcome, finding.Outcome);
        Assert.Equal(Copper.At20(ohm, celsius), finding.Measure);
        Assert.False(finding.ByDefaultLimit);
    }

    [Theory]
    [InlineData("general range, coil alone", "within", 0.6)]
    [InlineData("outside the general range, coil alone", "out", 3.0)]
    [InlineData("open", "open", 1000000.0)]
    [InlineData("shorted", "shorted", 0.05)]
    [InlineData("all alike", "within within within within", 0.6, 0.7, 0.6, 0.5)]
    [InlineData("another make, all alike", "within within within within", 3.1, 3.0, 3.2, 3.0)]
    [InlineData("one unlike the others inside the general range", "within out within within", 0.6, 1.4, 0.6, 0.7)]
    [InlineData("an open one leaves the others alone", "within within open within", 0.6, 0.6, 90000.0, 0.7)]
    [InlineData("a tenth of an ohm is the meter's own", "within within within within", 0.3, 0.4, 0.3, 0.5)]
    [InlineData("two and two: no common value", "- - - -", 0.6, 1.6, 0.6, 1.6)]
    public void Primaries_are_compared_where_no_makers_figures_are_given(string _, string outcomes, params double[] ohms) => Assert.Equal(outcomes, Primaries(I4, ohms));

    [Theory]
    [InlineData("all alike", "within within within within", 9500.0, 9800.0, 9400.0, 9600.0)]
    [InlineData("one off by more than 15 percent", "within within within out", 9500.0, 9800.0, 9400.0, 12000.0)]
    [InlineData("open", "within open within within", 9500.0, 1000000.0, 9400.0, 9600.0)]
    [InlineData("shorted", "within shorted within within", 9500.0, 120.0, 9400.0, 9600.0)]
    public void The_worse_of_primary_and_secondary_is_the_coils_outcome(string _, string outcomes, params double[] ohms) => Assert.Equal(outcomes, Secondaries(ohms));

    [Fact]
    public void The_makers_figures_go_before_the_comparison() => Assert.Equal("out out out out", Primaries(WithMakersFigures, 0.6, 0.7, 0.6, 0.6));

    [Fact]
    public void The_reason_names_both_windings_their_temperature_and_the_rule()
    {
        var finding = JudgeOne(I4, "coil-resistance", Coil(4, 0.6, 9500, null));
        Assert.Equal(
            "Primary 0.6 ohm, taken as at 20 °C (68 °F) since no temperature was noted: between 0.3 ohm to 2 ohm (the general limit). Measure the other coils too or enter the maker's figures. "
            + "Secondary 9500 ohm, taken as at 20 °C (68 °F) since no temperature was noted: between 5000 ohm to 20000 ohm (the general limit). Measure the other coils too or enter the maker's figures.",
            finding.Because);
        Assert.True(finding.ByDefaultLimit);
    }

    [Fact]
    public void A_winding_that_is_open_at_times_cannot_tell_and_is_measured_again()
    {
        var finding = JudgeOne(I4, "coil-resistance", Coil(1, 0.6), Coil(1, 1000000));
        Assert.True(finding is { Outcome: null, TrialsDisagree: true });
        Assert.Equal(finding, JudgeOne(I4, "coil-resistance", Coil(1, 1000000), Coil(1, 0.6)));
    }

    [Fact]
    public void Any_resistances_are_answered_and_numbering_them_otherwise_numbers_the_findings_otherwise() =>
        Gen.Select(Gen.Double[0, 5].Array[4], Gen.Double[0, 300000].Array[4], Gen.Double[-40, 150], Numberings).Sample((primaries, secondaries, celsius, number) =>
        {
            IEnumerable<Finding> Round(Func<int, int> numbered) => Judge(
                I4, "coil-resistance", Enumerable.Range(0, 4).Select(i => Coil(numbered(i), primaries[i], secondaries[i], celsius)));
            Assert.Equal(Round(i => i + 1).Select(f => f with { At = Place.Cylinder(number[f.At.First - 1]) }).OrderBy(f => f.At), Round(i => number[i]));
        });

    [Fact]
    public void The_how_to_says_which_coils_cannot_be_measured() =>
        Assert.Contains(Knowledge.Shipped.Test("coil-resistance")!.HowTo, h => h.Contains("driver", StringComparison.Ordinal) && h.Contains("cannot be measured", StringComparison.Ordinal));
}
