using System.Collections.Immutable;
using CsCheck;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;
using static ShopDiag.Diagnosis.Tests.Readings.Bench;

namespace ShopDiag.Diagnosis.Tests.Readings;

public sealed class CrankingCurrentTests
{
    private static Reading Hump(int cylinder, double percent) => At(cylinder, N("relativePercent", percent));

    private static ImmutableArray<Finding> Humps(Engine engine, params double[] percent) => Judge(engine, "cranking-current", percent.Select((p, i) => Hump(i + 1, p)));

    /// <summary>IBM Technical Disclosure, December 1970: a cylinder about 20 % from the average is flagged.</summary>
    [Theory]
    [InlineData("all alike", "good good good good", 100.0, 98.0, 99.0, 97.0)]
    [InlineData("one low", "good low good good", 100.0, 60.0, 98.0, 97.0)]
    [InlineData("a fifth off exactly", "good good good good", 100.0, 80.0, 100.0, 100.0)]
    [InlineData("more than a fifth off", "good low good good", 100.0, 79.9, 100.0, 100.0)]
    [InlineData("two neighbours low", "good low low good", 100.0, 55.0, 58.0, 99.0)]
    [InlineData("nothing at all", "good good good low", 100.0, 98.0, 99.0, 0.0)]
    [InlineData("all low alike cannot be judged", "- - - -", 62.0, 60.0, 61.0, 63.0)]
    [InlineData("one above all the rest cannot be judged", "- - - -", 100.0, 61.0, 60.0, 62.0)]
    public void A_cylinder_is_low_beside_the_sound_ones(string _, string outcomes, params double[] percent) =>
        Assert.Equal(outcomes, Humps(I4, percent).Outcomes());

    [Fact]
    public void Four_of_six_low_are_still_low() =>
        Assert.Equal("good good low low low low", Humps(V6, 100, 99, 60, 62, 61, 60).Outcomes());

    [Fact]
    public void An_evenly_worn_engine_hides_and_it_says_so()
    {
        Assert.All(Humps(I4, 100, 98, 99, 97), f => Assert.EndsWith("That all are alike low does not show in this test.", f.Because, StringComparison.Ordinal));
        Assert.All(Humps(I4, 62, 60, 61, 63), f => Assert.Contains("evenly worn cylinders hide", f.Because, StringComparison.Ordinal));
        Assert.All(Humps(I4, 62, 60, 61, 63), f => Assert.Contains("with a gauge", f.Because, StringComparison.Ordinal));
    }

    [Fact]
    public void Too_few_cylinders_cannot_be_compared()
    {
        Assert.Equal("- -", Humps(I4, 100, 50).Outcomes());
        Assert.Contains("read the rest of the same cranking", Humps(I4, 50).Single().Because, StringComparison.Ordinal);
    }

    [Fact]
    public void Two_cylinders_are_all_that_an_engine_with_two_can_compare()
    {
        var twin = Make("I2", [[1, 2]], [1, 2]);
        Assert.Equal("good low", Humps(twin, 100, 50).Outcomes());
        Assert.Equal("-", Humps(Make("I1", [[1]], [1]), 100).Outcomes());
    }

    [Fact]
    public void A_drop_no_larger_than_the_scatter_of_the_others_is_cranked_again()
    {
        var engine = Make("I6", [[1, 2, 3, 4, 5, 6]], [1, 5, 3, 6, 2, 4]);
        var low = Humps(engine, 100, 92, 78, 85, 83, 72).On(6);
        Assert.Null(low.Outcome);
        Assert.Contains("differ among themselves", low.Because, StringComparison.Ordinal);
        Assert.Equal("low", Humps(engine, 98, 96, 95, 97, 96, 72).On(6).Outcome);
    }

    [Fact]
    public void A_cylinder_that_passes_but_stands_out_is_remarked_on()
    {
        Assert.Contains("Yet it stands out", Humps(I4, 100, 82, 99, 98).On(2).Because, StringComparison.Ordinal);
        Assert.DoesNotContain("Yet it stands out", Humps(I4, 100, 82, 99, 98).On(1).Because, StringComparison.Ordinal);
    }

    [Fact]
    public void Trials_on_both_sides_are_taken_again()
    {
        var findings = Judge(I4, "cranking-current", Hump(1, 100), Hump(2, 60), Hump(2, 96), Hump(3, 99), Hump(4, 98));
        Assert.True(findings.On(2) is { Outcome: null, TrialsDisagree: true, Measure: 78 });
    }

    [Fact]
    public void The_reason_names_the_rule_and_whose_it_is()
    {
        Assert.Equal("60 %, below 80 % of the sound ones' 98 % (the general limit).", Humps(I4, 100, 60, 98, 97).On(2).Because);
        var own = Humps(I4.With(("cranking-share-percent", 90)), 100, 85, 98, 97).On(2);
        Assert.True(own is { Outcome: "low", ByDefaultLimit: false });
    }

    [Fact]
    public void Order_of_readings_changes_nothing() => Gen.Double[0, 100].Array[1, 4].Sample(trials =>
    {
        Reading[] readings = [.. trials.Select(p => Hump(1, p)), Hump(2, 96), Hump(3, 98), Hump(4, 93)];
        Assert.Equal(Judge(I4, "cranking-current", readings), Judge(I4, "cranking-current", readings.Reverse()));
    });

    [Fact]
    public void Numbering_the_cylinders_otherwise_numbers_the_findings_otherwise() => Gen.Select(Gen.Double[0, 100].Array[4], Numberings).Sample((percent, number) =>
    {
        var findings = Humps(I4, percent).Select(f => f with { At = Place.Cylinder(number[f.At.First - 1]) }).OrderBy(f => f.At);
        Assert.Equal(findings, Judge(I4, "cranking-current", percent.Select((p, i) => Hump(number[i], p))));
    });

    [Fact]
    public void The_scale_of_the_recording_does_not_decide_once_the_best_is_plain() => Gen.Select(Gen.Double[10, 79], Gen.Double[0.85, 1.2]).Sample((low, scale) =>
        Assert.Equal(Humps(I4, 100, low, 98, 97).Outcomes(), Humps(I4, 100 * scale, low * scale, 98 * scale, 97 * scale).Outcomes()));
}
