using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using static ShopDiag.Diagnosis.Tests.Readings.Bench;

namespace ShopDiag.Diagnosis.Tests.Readings;

public sealed class IgnitionTests
{
    private static Reading Spark(string jumps, double? gap = 20) => gap is { } mm ? At(1, T("jumps", jumps), N("gapMm", mm)) : At(1, T("jumps", jumps));

    private static readonly Engine WasteSpark = Make("I4", [[1, 2, 3, 4]], [1, 3, 4, 2], Ignition.WasteSpark);

    private static Reading Swap(int with, int? movedTo) => At(4, N("swappedWith", with), ("misfireMovedTo", movedTo is { } to ? FieldValue.Of((double)to) : FieldValue.Null));

    private static Reading Plug(string look, double? gap = null) => gap is { } mm ? At(1, T("look", look), N("gapMm", mm)) : At(1, T("look", look));

    [Theory]
    [InlineData("steady", 20.0, "strong")]
    [InlineData("steady", null, "strong")]
    [InlineData("steady", 8.0, "strong")]
    [InlineData("steady", 5.0, null)]
    [InlineData("weak", 20.0, "weak")]
    [InlineData("none", 20.0, "none")]
    [InlineData("none", 5.0, "none")]
    [InlineData("none", null, "none")]
    [InlineData("weak", 45.0, null)]
    [InlineData("none", 45.0, null)]
    [InlineData("steady", 45.0, "strong")]
    public void A_spark_is_judged_by_the_gap_it_had_to_jump(string jumps, double? gap, string? outcome) =>
        Assert.Equal(outcome, JudgeOne(I4, "spark-output", Spark(jumps, gap)).Outcome);

    /// <summary>D20: 2.00 cm takes 22.78 kV (AIEE needle gaps).</summary>
    [Fact]
    public void D20_the_reason_gives_the_gap_and_what_it_takes() =>
        Assert.Equal("Steady spark across 20 mm (0.787 in), about 23 kV.", JudgeOne(I4, "spark-output", Spark("steady")).Because);

    [Fact]
    public void Sparks_that_differ_are_taken_again()
    {
        var finding = JudgeOne(I4, "spark-output", Spark("none"), Spark("steady"));
        Assert.Null(finding.Outcome);
        Assert.True(finding.TrialsDisagree);
        Assert.Equal("The trials differ (Steady; None): take it again and correct the wrong one.", finding.Because);
    }

    [Theory]
    [InlineData(1, 1, "follows")]
    [InlineData(1, 4, "stays")]
    [InlineData(1, null, "gone")]
    [InlineData(1, 2, null)]
    public void A_swap_tells_where_the_misfire_went(int with, int? movedTo, string? outcome) =>
        Assert.Equal(outcome, JudgeOne(I4, "coil-swap", Swap(with, movedTo)).Outcome);

    // Taken at cylinder 4, whose coil fires cylinder 1 too; exchanged with the coil of 2 and 3.
    [Theory]
    [InlineData(2, 2, "follows")]
    [InlineData(2, 3, "follows")]
    [InlineData(3, 2, "follows")]
    [InlineData(2, 4, "stays")]
    [InlineData(2, 1, "stays")]
    [InlineData(2, null, "gone")]
    [InlineData(1, 1, null)]
    public void A_coil_of_two_cylinders_takes_both_along(int with, int? movedTo, string? outcome) =>
        Assert.Equal(outcome, JudgeOne(WasteSpark, "coil-swap", Swap(with, movedTo)).Outcome);

    [Fact]
    public void A_swap_within_one_coil_is_said_to_be_none() =>
        Assert.Contains("share one coil", JudgeOne(WasteSpark, "coil-swap", Swap(1, 1)).Because, StringComparison.Ordinal);

    [Fact]
    public void Swaps_with_two_cylinders_may_agree_or_differ()
    {
        Assert.Equal("follows", JudgeOne(I4, "coil-swap", Swap(1, 1), Swap(2, 2)).Outcome);
        var differ = JudgeOne(I4, "coil-swap", Swap(1, 1), Swap(2, 4));
        Assert.Null(differ.Outcome);
        Assert.True(differ.TrialsDisagree);
        Assert.Equal(differ, JudgeOne(I4, "coil-swap", Swap(2, 4), Swap(1, 1)));
    }

    [Theory]
    [InlineData(12.4, "good")]
    [InlineData(10.5, "good")]
    [InlineData(10.4, "low")]
    [InlineData(2.0, "low")]
    [InlineData(1.9, "none")]
    [InlineData(0, "none")]
    public void Feed_is_judged_by_its_voltage(double volts, string outcome)
    {
        var finding = JudgeOne(I4, "coil-feed", At(1, N("volts", volts)));
        Assert.Equal(outcome, finding.Outcome);
        Assert.Equal(volts, finding.Measure);
    }

    [Fact]
    public void Feed_that_comes_and_goes_cannot_tell() =>
        Assert.True(JudgeOne(I4, "coil-feed", At(1, N("volts", 12.4)), At(1, N("volts", 3))) is { Outcome: null, TrialsDisagree: true });

    [Theory]
    [InlineData("present")]
    [InlineData("absent")]
    [InlineData("erratic")]
    public void Control_is_as_the_technician_found_it(string signal) =>
        Assert.Equal(signal, JudgeOne(I4, "coil-control", At(2, T("signal", signal))).Outcome);

    [Fact]
    public void Every_look_of_a_plug_is_its_outcome()
    {
        var field = Knowledge.Shipped.Test("plug-condition")!.Fields.Single(f => f.Name == "look");
        Assert.All(field.Choices, c => Assert.Equal(c.Id, JudgeOne(I4, "plug-condition", Plug(c.Id)).Outcome));
    }

    [Theory]
    [InlineData("normal", 1.5, "normal")]
    [InlineData("normal", 1.6, "gap-wide")]
    [InlineData("worn", 1.6, "worn")]
    [InlineData("cracked", 1.0, "cracked")]
    public void A_plug_that_looks_normal_with_a_wide_gap_is_not_normal(string look, double gap, string outcome) =>
        Assert.Equal(outcome, JudgeOne(I4, "plug-condition", Plug(look, gap)).Outcome);

    /// <summary>D21: what a gap takes under compression by the uniform-field formula.</summary>
    [Fact]
    public void D21_a_wide_gap_says_what_it_takes_to_spark() =>
        Assert.Contains("under compression it takes about 24 kV", JudgeOne(I4, "plug-condition", Plug("normal", 1.6)).Because, StringComparison.Ordinal);

    [Fact]
    public void The_makers_gap_goes_before_the_general_one()
    {
        var finding = JudgeOne(I4.With(("plug-gap-max-mm", 0.8)), "plug-condition", Plug("normal", 1.0));
        Assert.True(finding is { Outcome: "gap-wide", ByDefaultLimit: false });
        Assert.True(JudgeOne(I4, "plug-condition", Plug("normal", 1.0)) is { Outcome: "normal", ByDefaultLimit: true });
    }
}
