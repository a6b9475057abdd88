using System.Collections.Immutable;
using CsCheck;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.BenchTests.CompressionDry;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;
using static ShopDiag.Diagnosis.Tests.Readings.Bench;

namespace ShopDiag.Diagnosis.Tests.Readings;

public sealed class CompressionTests
{
    private static Reading Dry(int cylinder, double kPa) => At(cylinder, N("kPa", kPa));

    private static ImmutableArray<Finding> Dries(Engine engine, params double[] kPa) => Judge(engine, "compression-dry", kPa.Select((p, i) => Dry(i + 1, p)));

    private static Finding Wet(double dry, double wet) =>
        Judge(I4, "compression-wet", [Dry(1, wet)], earlier: Judge(I4, "compression-dry", Dry(1, dry), Dry(2, 1200), Dry(3, 1210))).Single();

    /// <summary>D14: GM's own example: 150 psi (1035 kPa) highest, so 105 psi (725 kPa) lowest; 724.5 is rounded up.</summary>
    [Fact]
    public void D14_seventy_percent_of_the_highest()
    {
        Assert.Equal(725, CompressionRules.LeastBeside(1035, 70));
        Assert.Equal(105, CompressionRules.LeastBeside(150, 70));
        Assert.Equal("good low good good", Dries(I4, 1035, 724, 725, 1000).Outcomes());
    }

    [Theory]
    [InlineData("all sound", "good good good good", 1210.0, 1190.0, 1230.0, 1200.0)]
    [InlineData("below 100 psi", "good low good good", 950.0, 689.0, 940.0, 960.0)]
    [InlineData("all alike and all below 100 psi", "low low low low", 600.0, 610.0, 590.0, 605.0)]
    [InlineData("below a quarter of the highest", "good dead good good", 1200.0, 290.0, 1210.0, 1190.0)]
    [InlineData("below what fires at all", "dead dead dead dead", 100.0, 120.0, 0.0, 90.0)]
    public void Cylinders_are_judged_by_the_least_allowed_and_by_the_highest(string _, string outcomes, params double[] kPa) =>
        Assert.Equal(outcomes, Dries(I4, kPa).Outcomes());

    [Theory]
    [InlineData(700, "good")]
    [InlineData(680, "low")]
    [InlineData(100, "dead")]
    public void One_cylinder_alone_is_judged_by_the_least_allowed(double kPa, string outcome) => Assert.Equal(outcome, Dries(I4, kPa).Single().Outcome);

    /// <summary>D12: 0.7846 of sea level at 2000 m; 690 kPa becomes 541. The comparison between cylinders needs no correction.</summary>
    [Theory]
    [InlineData(545, "good")]
    [InlineData(540, "low")]
    public void D12_the_least_allowed_is_less_at_altitude(double kPa, string outcome)
    {
        var finding = Judge(I4, "compression-dry", [Dry(1, kPa)], altitude: 2000).Single();
        Assert.Equal(outcome, finding.Outcome);
        Assert.Contains("541 kPa", finding.Because, StringComparison.Ordinal);
        Assert.Contains("pressure ratio of the standard atmosphere", finding.Because, StringComparison.Ordinal);
    }

    [Fact]
    public void The_makers_share_goes_before_the_general_one()
    {
        var finding = Dries(I4.With(("compression-share-percent", 75)), 1000, 740, 990, 1010).On(2);
        Assert.True(finding is { Outcome: "low", ByDefaultLimit: false });
        Assert.Equal("740 kPa (107 psi): below 758 kPa (110 psi), which is 75 % of the highest, 1010 kPa (146 psi) (this engine's limit).", finding.Because);
    }

    [Fact]
    public void A_cylinder_that_passes_but_stands_out_is_remarked_on()
    {
        var findings = Dries(I4, 1200, 1210, 900, 1190);
        Assert.Equal("good good good good", findings.Outcomes());
        Assert.Contains("leak-down", findings.On(3).Because, StringComparison.Ordinal);
        Assert.DoesNotContain("leak-down", findings.On(1).Because, StringComparison.Ordinal);
    }

    [Fact]
    public void Trials_on_both_sides_of_a_limit_are_taken_again()
    {
        var findings = Judge(I4, "compression-dry", Dry(1, 1200), Dry(2, 600), Dry(2, 1150), Dry(3, 1190), Dry(4, 1000), Dry(4, 1150));
        Assert.True(findings.On(2) is { Outcome: null, TrialsDisagree: true });
        Assert.True(findings.On(4) is { Outcome: "good", TrialsDisagree: true, Measure: 1075 });
    }

    private static readonly Gen<double[]> Pressures = Gen.Double[0, 4000].Array[1, 4];

    [Fact]
    public void Numbering_the_cylinders_otherwise_numbers_the_findings_otherwise() => Gen.Select(Gen.Double[0, 2000].Array[4], Numberings).Sample((kPa, number) =>
    {
        var findings = Dries(I4, kPa).Select(f => f with { At = Place.Cylinder(number[f.At.First - 1]) }).OrderBy(f => f.At);
        Assert.Equal(findings, Judge(I4, "compression-dry", kPa.Select((p, i) => Dry(number[i], p))));
    });

    [Fact]
    public void Order_of_trials_changes_nothing() => Pressures.Sample(kPa =>
    {
        Reading[] trials = [.. kPa.Select(p => Dry(1, p)), Dry(2, 1000), Dry(2, 1100)];
        Assert.Equal(Judge(I4, "compression-dry", trials), Judge(I4, "compression-dry", trials.Reverse()));
    });

    [Fact]
    public void A_higher_reading_never_makes_a_good_cylinder_worse() => Gen.Select(Gen.Double[0, 2000].Array[4], Gen.Double[0, 1000], Gen.Double[0, 4000]).Sample((kPa, more, altitude) =>
    {
        Reading[] Run(double first) => [Dry(1, first), .. kPa.Skip(1).Select((p, i) => Dry(i + 2, p))];
        var before = Judge(I4, "compression-dry", Run(kPa[0]), altitude).On(1);
        Assert.True(before.Outcome != "good" || Judge(I4, "compression-dry", Run(kPa[0] + more), altitude).On(1).Outcome == "good");
    });

    [Theory]
    [InlineData("rings: improves considerably with oil", 600, 780, "rises")]
    [InlineData("ten percent exactly", 600, 660, "rises")]
    [InlineData("valve: little improvement", 600, 620, "same")]
    [InlineData("less than before", 600, 580, "same")]
    [InlineData("a dead one, within the gauge's scatter", 100, 120, "same")]
    [InlineData("a dead one that rises", 100, 180, "rises")]
    [InlineData("nothing dry, nothing wet", 0, 0, "same")]
    public void The_wet_test_tells_rings_from_valves(string _, double dry, double wet, string outcome) => Assert.Equal(outcome, Wet(dry, wet).Outcome);

    [Fact]
    public void The_wet_test_means_nothing_without_a_low_dry_reading()
    {
        Assert.Contains("take that first", JudgeOne(I4, "compression-wet", Dry(1, 700)).Because, StringComparison.Ordinal);
        Assert.Null(JudgeOne(I4, "compression-wet", Dry(1, 700)).Outcome);
        Assert.Null(Wet(1180, 1400).Outcome);
        Assert.Contains("low cylinder only", Wet(1180, 1400).Because, StringComparison.Ordinal);
    }

    [Fact]
    public void The_wet_reason_gives_both_pressures_and_the_rise() => Assert.Equal(
        "780 kPa (113 psi) with oil, +30 % on 600 kPa (87 psi) dry: it rises by at least 10 % (the general limit), so the leak is past the rings.",
        Wet(600, 780).Because);
}
